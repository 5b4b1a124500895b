"""The whole run: a case folder in, a swept deck and its paper out.

    check -> propose -> apply -> compose -> write -> sweep -> rename into place

Nothing appears in the output folder before the sweep has passed, and then by one rename a file:
a build that is killed leaves the old deck whole.
"""

from mmbuilder.pipeline.one import build
from mmbuilder.pipeline.results import BuildOptions, BuildReport, Failure
from mmbuilder.pipeline.several import build_many, collisions
from mmbuilder.pipeline.watching import watch

__all__ = ["BuildOptions", "BuildReport", "Failure", "build", "build_many", "collisions", "watch"]
