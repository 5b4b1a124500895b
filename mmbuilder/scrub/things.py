"""What shows that a sentence is German, where every noun has a capital."""

from __future__ import annotations

import re

GERMAN = re.compile(
    r"\b(?:[Dd](?:er|ie|as|em|en|es)|[Ee]ine?[nmrs]?|und|mit|nach|wurde|wegen|vom?|auf|bei|ist|hatte|im|am|zu[rm]?)\b"
)
