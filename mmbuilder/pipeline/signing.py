"""The sign-off: what a reviewer saw, bound by hash; it falls away when any of it changes.

It binds, it does not prove who signed: it is a record beside the case, as safe as the folder is.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, replace
from datetime import date
from pathlib import Path

import mmbuilder
from mmbuilder import uses
from mmbuilder.case.signoff import Bound, Signature, SignOff
from mmbuilder.casefile.checking import CASE, DECISIONS, DEPARTMENT, IDENTIFIERS
from mmbuilder.casefile.files import inside
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import ReviewPending
from mmbuilder.safe.terms import Consent, Looked, Reviewer, Use, YesNo
from mmbuilder.scrub.plan import RedactionPlan

FINDINGS = "list of what is removed"
COVERED = "list of what is covered in pictures"
OF_PICTURES = frozenset({Looked.PICTURES, Looked.FACES, Looked.MARKS, Looked.REFLECTIONS})
"""What is looked at in pictures alone."""
_NOT_OF_WORDS = re.compile(rf"picture \d+|readings \d+|{COVERED}|department's settings")
_FILES = {
    "case": CASE,
    "private list": IDENTIFIERS,
    "decisions about words": DECISIONS,
    "department's settings": DEPARTMENT,
}
_NONE = hashlib.sha256(b"").hexdigest()
"""Stands for a file that is not there."""


def reviewed(folder: CaseFolder, plan: RedactionPlan) -> RedactionPlan:
    """Return a plan as reviewed, if the sign-off for the use of this case covers exactly this state.

    Raises:
        ReviewPending: it does not; every reason is in it.
    """
    if why := list(pending(folder, plan)):
        raise ReviewPending("; ".join(why))
    signed = signed_for(folder, folder.case.use)
    assert signed is not None
    return replace(plan, reviewed_by=" and ".join(one.role.value for one in signed.signatures))


def pending(folder: CaseFolder, plan: RedactionPlan | None = None) -> Iterator[str]:
    """Yield what a final result for the use of this case still needs.

    Args:
        folder: the case.
        plan: what is removed; without it, only what can be told from the files is.
    """
    use = folder.case.use
    signed = signed_for(folder, use)
    if signed is None:
        yield (f"nobody has signed it for {use.value}; until then every build is a DRAFT")
    else:
        yield from fallen(folder, signed, plan)
        if len(signed.signatures) < needed(folder):
            yield "the department asks for a second person's review, and one has signed"
    if plan is not None:
        yield from undecided(folder, plan)
    yield from consent(folder)


def undecided(folder: CaseFolder, plan: RedactionPlan) -> Iterator[str]:
    """Yield what the tool found and nobody has decided, as numbers."""
    from mmbuilder.scrub.decided import open_boxes, open_words
    from mmbuilder.scrub.walk import Texts

    if words := len(open_words(Texts(folder.case, folder.previous).items, plan, folder.decided)):
        yield f"{words} finding{'s' if words != 1 else ''} in words not decided"
    for number, boxes in open_boxes(plan).items():
        yield f"picture {number}: {len(boxes)} place{'s' if len(boxes) != 1 else ''} not decided"


def consent(folder: CaseFolder) -> Iterator[str]:
    """Yield that a consent is missing; the tool never writes one."""
    given = folder.case.governance.publication_consent
    if uses.load(folder.case.use).outside and given is not Consent.GIVEN:
        yield (
            f"a final {folder.case.use.value} needs the patient's consent to publication; "
            f"it says: {given.value}"
        )


def needed(folder: CaseFolder) -> int:
    """Return how many people have to review."""
    return 2 if folder.department.second_reviewer is YesNo.YES else 1


def signed_for(folder: CaseFolder, use: Use) -> SignOff | None:
    """Return the last sign-off for a use."""
    return next((one for one in reversed(folder.signed.signed) if one.use is use), None)


def fallen(
    folder: CaseFolder,
    signed: SignOff,
    plan: RedactionPlan | None = None,
    since: Mapping[str, str] | None = None,
) -> Iterator[str]:
    """Yield why a sign-off no longer holds: a sentence for everything that has changed since.

    Args:
        folder: the case.
        signed: the sign-off.
        plan: what is removed; without it, only what can be told from the files is.
        since: what has `changed`, where that is known already.
    """
    if signed.program != mmbuilder.__version__:
        yield f"it was signed with version {signed.program} of the program; this is {mmbuilder.__version__}"
    since = changed(folder, signed, plan) if since is None else since
    yield from (f"the {part} {what}" for part, what in since.items())


def changed(folder: CaseFolder, signed: SignOff, plan: RedactionPlan | None) -> dict[str, str]:
    """Return every part that is no longer as it was signed, with what happened to it."""
    then = {one.part: one.hash for one in signed.bound}
    now = dict(_bound(folder, plan))
    if plan is None:
        for part in (FINDINGS, COVERED):
            then.pop(part, None)
    return {
        **{part: "was signed and is no longer there" for part in sorted(then.keys() - now.keys())},
        **{part: "was not there when it was signed" for part in now if part not in then},
        **{part: "has changed since it was signed" for part in now if then.get(part, now[part]) != now[part]},
    }


def still_seen(
    folder: CaseFolder, signed: SignOff, plan: RedactionPlan, since: Mapping[str, str] | None = None
) -> frozenset[Looked]:
    """Return what everybody who signed looked at and is as it was then, though something else has changed.

    What is looked at in pictures depends on them and on their covers; all else on every word.
    `since` is what has `changed`, where that is known already.
    """
    if signed.program != mmbuilder.__version__:
        return frozenset()
    seen = frozenset[Looked](Looked).intersection(*(one.looked_at for one in signed.signatures))
    since = changed(folder, signed, plan) if since is None else since
    if any(part == COVERED or part.startswith("picture ") for part in since):
        seen -= OF_PICTURES
    return seen if all(map(_NOT_OF_WORDS.fullmatch, since)) else seen & OF_PICTURES


def sign(
    folder: CaseFolder, plan: RedactionPlan, role: Reviewer, looked_at: Sequence[Looked], on: date
) -> tuple[SignOff, ...]:
    """Return the sign-offs of a case with one more signature for its use.

    A second person's signature joins the first if that still holds, and starts anew if not.
    """
    use, hand = folder.case.use, Signature.model_validate(_signature(role, looked_at, on))
    before = signed_for(folder, use)
    joins = before is not None and not any(fallen(folder, before, plan))
    hands = [*before.signatures, hand][-2:] if before is not None and joins else [hand]
    made = SignOff.model_validate(
        {
            "use": use,
            "signatures": hands,
            "program": mmbuilder.__version__,
            "bound": [Bound(part=part, hash=value) for part, value in _bound(folder, plan)],
        }
    )
    return (*(one for one in folder.signed.signed if one.use is not use), made)


def _signature(role: Reviewer, looked_at: Sequence[Looked], on: date) -> dict[str, object]:
    return {"role": role, "on": on.isoformat(), "looked at": tuple(looked_at)}


def written(signed: Sequence[SignOff]) -> bytes:
    """Return the content of `sign-off.yaml`."""
    import yaml

    body = [one.model_dump(mode="json", by_alias=True) for one in signed]
    return _HEAD.encode() + yaml.safe_dump({"signed": body}, sort_keys=False, allow_unicode=True).encode()


_HEAD = """\
# Who reviewed the removal of identifiers, by role, and the state they saw (SHA-256).
# Written by the page of the case. Any change of what is listed makes it void; do not edit it.
"""


def _bound(folder: CaseFolder, plan: RedactionPlan | None) -> Iterator[tuple[str, str]]:
    """Yield every part that a sign-off is bound to, with its hash."""
    for part, name in _FILES.items():
        yield part, _hash(_found(folder.root, name))
    if folder.case.previous_actions is not None:
        yield "action log", _hash(inside(folder.root, folder.case.previous_actions.value))
    for number, readings in enumerate(folder.case.readings, 1):
        yield f"readings {number}", _hash(inside(folder.root, readings.file.value))
    for number, frame in enumerate(folder.case.frames, 1):
        yield f"picture {number}", _hash(inside(folder.root, frame.file.value))
    if plan is not None:
        yield FINDINGS, _plan_hash(plan)
        yield COVERED, _covers_hash(folder, plan)


def _found(root: Path, name: str) -> Path | None:
    folders = (root, root.absolute().parent) if name == DEPARTMENT else (root,)
    return next((folder / name for folder in folders if os.path.lexists(folder / name)), None)


def _hash(path: Path | None) -> str:
    if path is None:
        return _NONE
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _plan_hash(plan: RedactionPlan) -> str:
    texts = [
        [list(path), [asdict(span) for span in spans]] for path, spans in sorted(plan.texts.items(), key=str)
    ]
    return _digest([texts, _boxes(plan), plan.detectors, plan.unchecked])


def _covers_hash(folder: CaseFolder, plan: RedactionPlan) -> str:
    """A crop that changes shows another part of the same picture."""
    return _digest([_boxes(plan), [frame.crop for frame in folder.case.frames]])


def _boxes(plan: RedactionPlan) -> list[object]:
    return [[number, [asdict(box) for box in boxes]] for number, boxes in sorted(plan.images.items())]


def _digest(body: object) -> str:
    return hashlib.sha256(json.dumps(body, sort_keys=True).encode()).hexdigest()
