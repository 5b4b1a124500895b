"""Picture formats, one file each: how to know one, and what it carries beside pixels.

A leaf has `NAME` (as said to the user), `PILLOW` (the decoder's name), `SUFFIXES`,
`matches(head)` on the first bytes, `chunks(data)` and `pages(data)`. Walkers never
raise: a damaged file gives what could be reached.
"""
