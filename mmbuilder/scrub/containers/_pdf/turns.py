"""Quarter turns of a page, so that its lines can be read level."""

from __future__ import annotations

from dataclasses import replace

from mmbuilder.scrub.containers._pdf.reading import Area, Letters


def turned(area: Area, times: int, width: int, height: int) -> Area:
    """Return where an area lies once the page is turned, a quarter to the left each time.

    Args:
        area: on the page as it is.
        times: of turning; as `numpy.rot90` does.
        width: of the page as it is.
        height: of the page as it is.
    """
    for _ in range(times % 4):
        left, top, right, bottom = area
        area = top, width - right, bottom, width - left
        width, height = height, width
    return area


def letters_turned(letters: Letters, times: int, width: int, height: int) -> Letters:
    """Return the letters of a page where they stand once it is turned."""
    areas = tuple(area and turned(area, times, width, height) for area in letters.areas)
    return replace(letters, areas=areas)
