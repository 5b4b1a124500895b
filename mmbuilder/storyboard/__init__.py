"""From a scrubbed case to slides made of blocks."""

from mmbuilder.storyboard.compose import compose, compose_papers

__all__ = ["compose", "compose_papers"]
