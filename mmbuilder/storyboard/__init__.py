"""From a scrubbed case to slides made of blocks."""

from mmbuilder.storyboard.compose import Telling, compose, compose_papers

__all__ = ["Telling", "compose", "compose_papers"]
