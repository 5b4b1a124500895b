"""The making of one file: parts are taken over one after another, as far as known ones lead to them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from mmbuilder.case.tidy import seen
from mmbuilder.errors import FileRefused
from mmbuilder.scrub import columns
from mmbuilder.scrub.containers._ooxml.dropped import in_words
from mmbuilder.scrub.containers._ooxml.package import Package, Relation
from mmbuilder.scrub.containers._ooxml.writing import Made, closed
from mmbuilder.scrub.containers._ooxml.xml import Element, dump
from mmbuilder.scrub.containers.base import Result, Tools
from mmbuilder.scrub.findings import Finding, replaced
from mmbuilder.scrub.plan import Layer, Span


@dataclass(frozen=True)
class Kind:
    """A kind of part that is taken over.

    Attributes:
        name: what it is called in a place, such as "slide".
        type: its content type.
        path: its new name, with {} for the number.
        clean: makes its tree fit to be written.
        silent: types of relationships that hold without being named in the part's own text.
    """

    name: str
    type: str
    path: str
    clean: Callable[[Scene], None]
    silent: tuple[str, ...] = ()


@dataclass
class Work:
    """One file on its way.

    Attributes:
        kinds: what is taken over, by the type of the relationship that leads to it.
        names: new names by old ones.
        fine: words of settings that the scrubber leaves alone, or not.
        shared: what one part has to tell the others, such as new names of styles.
    """

    package: Package
    tools: Tools
    kinds: Mapping[str, Kind]
    names: dict[str, str] = field(default_factory=dict)
    made: dict[str, Made] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    notes: dict[str, None] = field(default_factory=dict)
    left_out: Counter[str] = field(default_factory=Counter)
    refused: set[str] = field(default_factory=set)
    shared: dict[str, str] = field(default_factory=dict)
    media: dict[tuple[str, object], tuple[str, str]] = field(default_factory=dict)
    used: set[str] = field(default_factory=set)
    fine: dict[str, bool] = field(default_factory=dict)
    _waiting: list[tuple[str, Kind]] = field(default_factory=list)
    _numbers: Counter[str] = field(default_factory=Counter)

    def take(self, relation: Relation | None) -> str:
        """New name of the part a relationship leads to; empty where it is not taken over."""
        kind = self.kinds.get(relation.type) if relation and not relation.external else None
        if relation is None or kind is None or relation.target in self.refused:
            return ""
        if self.package.type_of(relation.target) != kind.type:
            return ""
        if relation.target not in self.names:
            self.names[relation.target] = self.name(kind.path)
            self._waiting.append((relation.target, kind))
        return self.names[relation.target]

    def name(self, path: str) -> str:
        """The next free name of this pattern."""
        self._numbers[path] += 1
        return path.format(self._numbers[path])

    def run(self, main: str, kind: Kind) -> Result:
        """Take over the main part and all it leads to, and close the file."""
        self.names[main] = self.name(kind.path)
        self._waiting.append((main, kind))
        while self._waiting:
            self._make(*self._waiting.pop(0))
        told = Counter(in_words(name, self.package.type_of(name)) for name in self._unused())
        told.update(self.left_out)
        return Result(
            closed(self.names[main], self.made),
            tuple(self.findings),
            tuple(self.notes),
            tuple(f"{words} ({count})" for words, count in sorted(told.items()) if words),
        )

    def add(self, name: str, kind: str, data: bytes) -> None:
        """Put in a part that is finished."""
        self.made[name] = Made(kind, data)

    def note(self, words: str) -> None:
        """Say once what was not looked at."""
        self.notes.setdefault(words)

    def _make(self, source: str, kind: Kind) -> None:
        new = self.names[source]
        scene = Scene(self, kind, source, new, self.package.tree(source))
        for relation in scene.sources.values():
            if relation.type in kind.silent and (target := self.take(relation)):
                scene.relate(relation.type, target)
        kind.clean(scene)
        self.made[new] = Made(kind.type, dump(scene.tree), scene.relations)

    def _unused(self) -> list[str]:
        taken = self.names.keys() | self.used
        return [name for name in self.package.parts if name not in taken and not name.endswith(".rels")]


@dataclass
class Scene:
    """One part on its way: its old name, its new one, its tree, and what each paragraph said before it was scrubbed."""

    work: Work
    kind: Kind
    source: str
    name: str
    tree: Element
    relations: list[tuple[str, str, str]] = field(default_factory=list)
    said: dict[Element, str] = field(default_factory=dict, repr=False)
    _texts: int = 0
    _vouched: set[tuple[Element, str]] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.sources = self.work.package.relations(self.source)

    @property
    def place(self) -> str:
        """The part in words: its kind and number."""
        stem = self.name.rpartition("/")[2].partition(".")[0]
        number = stem.lstrip("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")
        return f"{self.kind.name} {number}".strip()

    def relate(self, kind: str, target: str) -> str:
        """Id of a relationship to a part of the new file."""
        for key, known, there in self.relations:
            if (known, there) == (kind, target):
                return key
        key = f"rId{len(self.relations) + 1}"
        self.relations.append((key, kind, target))
        return key

    def leads(self, key: str) -> bool:
        """Whether it is the id of a relationship of the new part, or none at all."""
        return not key or any(key == known for known, _, _ in self.relations)

    def spans_in(self, text: str, labels: Sequence[str] = ()) -> tuple[Span, ...]:
        """What is to be replaced in one text; told as findings.

        Args:
            text: a paragraph or cell.
            labels: what stands over or before it; each is read together with it, since
                "MRN" in a column head says what a bare number under it is.
        """
        self._texts += 1
        short = [label for label in labels if any(map(str.isalpha, label)) and len(label) <= LABEL]
        read = [self._below(label, text) for label in short] if len(text) <= LABEL else []
        alone = self.work.tools.text(text).spans
        spans = [one for one in alone if not any(columns.a_word_there(text, one, below) for below in read)]
        for below in read:
            spans = _united(spans, below)
        if not spans:
            spans = [one for label in labels if (one := columns.below(label.rstrip(": "), text))][:1]
        elif columns.heads(text):
            spans = [one for one in spans if one.layer is Layer.DECLARED]  # `Ward` over a column is nobody
        where = f"{self.place}, text {self._texts}"
        self.work.findings += [Finding(span.kind, where, span.start, span.end) for span in spans]
        return tuple(spans)

    def _below(self, label: str, text: str) -> list[Span]:
        """What is to be replaced in a text that is read together with its label."""
        told = _behind(self.work.tools.text(f"{label}: {text}").spans, len(label) + 2)
        return columns.without_days(told, label, text)

    def spans_alone(self, text: str) -> tuple[Span, ...]:
        """What is to be replaced in a text that is no text of the file by itself; not told."""
        return self.work.tools.text(text).spans

    def text(self, text: str, labels: Sequence[str] = ()) -> str:
        """One text scrubbed."""
        text = seen(text)
        return replaced(text, list(self.spans_in(text, labels))) if text.strip() else text

    def vouch(self, node: Element, attribute: str = "") -> None:
        """Say that a step has scrubbed the text of an element, or made its attribute: it may stay."""
        self._vouched.add((node, attribute))

    def vouched(self, node: Element, attribute: str = "") -> bool:
        """Whether a step has done so."""
        return (node, attribute) in self._vouched

    def found(self, kind: str) -> None:
        """Tell of something that was left out of this part."""
        self.work.findings.append(Finding(kind, self.place))


LABEL = 80
"""Characters of a label, and of what it labels, that are read together; longer is prose."""


def _behind(spans: Sequence[Span], start: int) -> list[Span]:
    """Spans that begin behind a label, with offsets into what follows it."""
    return [
        replace(span, start=max(span.start, start) - start, end=span.end - start)
        for span in spans
        if span.end > start
    ]


def _united(spans: list[Span], more: list[Span]) -> list[Span]:
    """Both, in order; where two overlap the longer one stays."""
    kept: list[Span] = []
    for span in sorted([*spans, *more], key=lambda span: (span.start - span.end, span.start)):
        if all(span.end <= other.start or other.end <= span.start for other in kept):
            kept.append(span)
    return sorted(kept)


def main_part(package: Package, types: Mapping[str, str], what: str) -> str:
    """Name of the part the package opens with.

    Raises:
        FileRefused: there is none, or it is of another kind.
    """
    for relation in package.relations("").values():
        if relation.type == "officeDocument" and package.type_of(relation.target) in types:
            return relation.target
    raise FileRefused(
        f"the file holds no {what} that can be read; open it and save it as {' or '.join(types.values())}"
    )
