"""One page each: `NAME`, `TITLE`, `ORDER` and `blueprint`, found by walking this folder."""
