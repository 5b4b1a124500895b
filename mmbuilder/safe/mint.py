"""The key that every safe text and image asks for when it is made.

An import contract lists who may read this file: the scrubber (the only crossing from raw
to safe) and the loaders of shipped vocabularies. Anything else that wants safe words takes
them from a scrubbed case, or writes them in the source as literals (`safe.text.wording`).
"""

from typing import Final, final


@final
class MintKey:
    """Proof that the caller may declare something safe."""

    __slots__ = ()


KEY: Final = MintKey()
