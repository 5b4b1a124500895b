"""What looks for text, faces and codes in pixels: one file each.

A leaf has `NAME`, `LOOKS_FOR` (which of `regions.PIXEL_RISKS` it looks for) and
`find(image)`, boxes in pixels of the upright picture it is given.
"""
