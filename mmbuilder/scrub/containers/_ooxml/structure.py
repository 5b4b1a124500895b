"""What a part is made of: alternatives settled, extensions and unknown elements left out."""

from __future__ import annotations

from collections.abc import Callable

from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import MC, NAMESPACES, Element, qs, remove, space, unwrap

_CHOICES = frozenset({"wps", "wpg", "wpc"})
"""Namespaces of alternatives that are taken: drawings of Word since 2010. For all others the fallback is."""

_INSIDE = {
    NAMESPACES[root]: frozenset(NAMESPACES[prefix] for prefix in prefixes.split())
    for root, prefixes in {
        "a": "a",
        "c": "c a cdr",
        "p": "p a c",
        "w": "w m v o w10 wp wpc wpg wps a pic c dgm",
        "x": "x",
        "xdr": "xdr a c dgm",
    }.items()
}
"""Namespaces a part may hold, by that of its root: what is at home elsewhere, no step here looks into."""

_EXTENSIONS = qs(
    """p:extLst a:extLst c:extLst dgm:extLst dsp:extLst x:extLst wps:extLst pic:extLst wp:extLst cdr:extLst
    wpg:extLst"""
)
_SEALED = qs(
    """p:custDataLst p:custShowLst p:controls p:embeddedFontLst p:modifyVerifier p:photoAlbum p:smartTags
    p:kinsoku p:handoutMasterIdLst p:sndAc a:audioCd a:audioFile a:videoFile a:wavAudioFile
    a:quickTimeFile a:snd a:stCxn a:endCxn a:font c:externalData c:protection c:printSettings
    c:clrMapOvr w:altChunk w:control w:attachedTemplate w:mailMerge w:commentRangeStart
    w:commentRangeEnd w:commentReference w:annotationRef w:proofErr w:permStart w:permEnd w:docVars
    w:rsids w:subDoc w:contentPart p:contentPart w:movie w:scriptAnchor w:divId o:OLEObject
    o:signatureline o:lock o:ink x:legacyDrawing x:legacyDrawingHF x:controls x:oleObjects
    x:customProperties x:webPublishItems x:smartTags"""
)


def prepare(scene: Scene, sealed: frozenset[str] = frozenset()) -> None:
    """Reduce a part to elements of known namespaces, without what only programs and editors read."""
    _settle_alternatives(scene.tree)
    inside = _INSIDE.get(space(scene.tree.tag), frozenset())
    for node in list(scene.tree.iter()):
        if node is scene.tree:
            continue
        gone = node.tag in _EXTENSIONS or node.tag in _SEALED or node.tag in sealed
        if gone or space(node.tag) not in inside:
            remove(node)
    for name in [name for name in scene.tree.attrib if space(name) == MC]:
        del scene.tree.attrib[name]


def _settle_alternatives(root: Element) -> None:
    while (node := next(root.iter(f"{{{MC}}}AlternateContent"), None)) is not None:
        chosen = _chosen(node)
        for child in list(node):
            if child is not chosen:
                node.remove(child)
        if chosen is not None:
            unwrap(chosen)
        unwrap(node)


def _chosen(node: Element) -> Element | None:
    """The first alternative we know, else the fallback; none where there is none."""
    for child in node:
        if child.tag == f"{{{MC}}}Choice":
            needed = {child.nsmap.get(prefix, "") for prefix in child.get("Requires", "").split()}
            if needed and needed <= {NAMESPACES[prefix] for prefix in _CHOICES}:
                return child
    return next((child for child in node if child.tag == f"{{{MC}}}Fallback"), None)


Step = Callable[[Scene], None]


def steps(*every: Step) -> Step:
    """One after another."""

    def clean(scene: Scene) -> None:
        for step in every:
            step(scene)

    return clean
