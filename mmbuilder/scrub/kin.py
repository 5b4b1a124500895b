"""Words for relatives and other people of a patient, in one place: every rule that looks for a name beside one reads these."""

from __future__ import annotations

from mmbuilder.scrub.words import word_set

RELATIVES = word_set(
    """
    wife husband partner ptnr hubby spouse fiance fiancee girlfriend boyfriend gf bf ex daughter son dtr mum mam mom dad mother father ma pa bro sis
    brother sister twin stepson stepdaughter stepfather stepmother stepmum stepdad grandson granddaughter grandmother grandfather
    grandma grandad granddad granny gran nan nana nanna grandpa aunt auntie aunty uncle cousin niece nephew godmother godfather kid
    """
)
"""Of the family."""

OTHERS = word_set(
    "friend mate neighbour neighbor carer colleague landlord landlady flatmate housemate nok poa lpa attorney guardian chaperone boss employer"
)
"""Others who come with a patient."""

KIN = RELATIVES | OTHERS

PATTERN = (
    r"(?:(?:daughter|son|mother|father|brother|sister)[\s-]in[\s-]law|next\sof\skin|"
    + "|".join(sorted(KIN, key=lambda word: (-len(word), word)))
    + ")"
)
"""Any of them, in small letters."""
