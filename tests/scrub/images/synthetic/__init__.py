"""Pictures with burned-in text made to be hard, and clean ones made to look like text: all invented.

`pictures.dev()` and `pictures.held_out()` are split by the hash of their names, before any tuning.
"""
