"""Fair review: what a reader of a case would object to, found in words and in plain values.

Pure functions over text; the word lists lie beside them, one YAML file each. Nothing here knows
a case, and nothing it gives back holds a word of the author's: only places, and words of our own.
"""
