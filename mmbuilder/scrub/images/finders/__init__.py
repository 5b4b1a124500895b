"""What looks for text, faces and codes in pixels: one file each.

A leaf has `NAME`, `LOOKS_FOR` (which of `regions.PIXEL_RISKS` it looks for), `EXTRA` and `NEEDS`
(the optional part of the tool, and the modules, without which it cannot run) and `find(image)`,
boxes in pixels of the upright picture it is given; a box that may stay says so and why.
Files that start with an underscore are parts of a leaf.
"""
