"""One page each: `NAME`, `TITLE`, `ORDER` and `blueprint`, found by walking this folder.

`_<name>_page` holds the functions of a page that is read when it is first asked for.
"""
