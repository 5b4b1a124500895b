"""One measure a file; see `mmbuilder.clinic.measure` for what a file holds."""
