"""From bytes to a plain tree: one step, one file. `casefile.reader` puts them together."""
