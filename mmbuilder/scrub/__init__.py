"""From a raw case to a scrubbed one: `propose` finds, a person reviews, `apply` crosses the line."""

from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.plan import RedactionPlan
from mmbuilder.scrub.plan_file import load_plan, save_plan
from mmbuilder.scrub.propose import propose

__all__ = ["RedactionPlan", "apply", "load_plan", "propose", "save_plan"]
