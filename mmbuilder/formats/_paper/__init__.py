"""Pages set by typst: what a paper says as data, and the setting of it."""
