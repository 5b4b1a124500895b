"""Copies of a deck on paper for one reader each: `make(deck, case)` gives a storyboard."""
