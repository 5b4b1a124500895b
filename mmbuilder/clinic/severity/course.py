"""What befell a patient, in the closed words that the harm scales ask for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

Symptoms = Literal["none", "mild", "marked"]
Care = Literal["none", "monitoring", "minor treatment", "intervention", "major intervention", "life support"]
Loss = Literal["none", "minimal", "lasting", "major lasting"]

CARE: tuple[Care, ...] = get_args(Care)
"""From the lightest."""

_WORDS = {"symptoms": get_args(Symptoms), "care": CARE, "loss": get_args(Loss)}


@dataclass(frozen=True)
class Course:
    """An event and what came of it.

    Attributes:
        occurred: False for circumstances that could have led to an event, with none.
        reached: whether it got to the patient; something left out does.
        symptoms: what the patient had of it.
        care: the heaviest extra care it needed. Life support is that of breathing or circulation.
        longer_stay: whether it led to an admission, or to a longer one.
        loss: of function, what is left once all is done to limit it.
        died: whether it brought death on, or forward.
    """

    occurred: bool = True
    reached: bool = True
    symptoms: Symptoms = "none"
    care: Care = "none"
    longer_stay: bool = False
    loss: Loss = "none"
    died: bool = False

    def __post_init__(self) -> None:
        for name, words in _WORDS.items():
            if getattr(self, name) not in words:
                raise ValueError(f"{name}: expected one of: {'; '.join(words)}")
        if not self.at_patient and (self.harmed or self.care != "none" or self.longer_stay):
            raise ValueError("an event that did not reach the patient needed no care and did no harm")

    @property
    def at_patient(self) -> bool:
        """Whether there was an event, and it got to the patient."""
        return self.occurred and self.reached

    @property
    def harmed(self) -> bool:
        """Whether anything was felt, lost, or worse."""
        return self.died or self.symptoms != "none" or self.loss != "none" or self.care == "life support"

    def needed(self, least: Care) -> bool:
        """Whether the extra care was `least` or heavier."""
        return CARE.index(self.care) >= CARE.index(least)
