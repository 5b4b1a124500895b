"""What can be computed from a scrubbed case: its timeline, what a cut may show, its cause grid."""

from mmbuilder.analysis.cause_grid import CauseGrid, cause_grid
from mmbuilder.analysis.cut import cut
from mmbuilder.analysis.describe import describe
from mmbuilder.analysis.timeline import Chart, Timeline, build_timeline

__all__ = ["CauseGrid", "Chart", "Timeline", "build_timeline", "cause_grid", "cut", "describe"]
