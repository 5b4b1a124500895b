"""Named severity scales, one file each: what a course of events implies by the printed definitions.

The author states a grade, with who gave it; nothing here fills one in. `challenge` says where the stated
grade and the printed definition part, and how far that may be argued. Closed words in, plain words out:
no text of the author's goes in or comes back.
"""
