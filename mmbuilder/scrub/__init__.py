"""From a raw case to a scrubbed one: `propose` finds, a person reviews, `apply` crosses the line.

Nothing is imported here: whoever asks for the plan's types is not made to load every detector.
"""
