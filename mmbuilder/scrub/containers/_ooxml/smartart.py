"""SmartArt becomes the shapes it shows: its data can hold texts that were deleted from view."""

from __future__ import annotations

import lxml.etree as etree

from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import NAMESPACES, Element, above, named, q, remove, space

_POINTER = f"{{{NAMESPACES['dsp']}}}dataModelExt"


def flatten_smartart(scene: Scene) -> None:
    """Put the kept drawing of each SmartArt in its place, as a group of shapes. Before `prepare`."""
    for number, node in enumerate(named(scene.tree, "dgm:relIds"), 1):
        frame = above(node, "p:graphicFrame")
        drawing = _drawing(scene, node.get(q("r:dm"), ""))
        if frame is None or frame.getparent() is None:
            continue
        if drawing is None:
            scene.found("SmartArt without a drawing of it")
            remove(frame)
            continue
        scene.found("SmartArt, now plain shapes")
        tree = _own_links(scene, drawing, f"d{number}-")
        shapes = next(tree.iter(q("dsp:spTree")), tree)
        frame.getparent().replace(frame, _group(frame, shapes))


def _drawing(scene: Scene, data: str) -> str | None:
    """Name of the part with the drawing: the data name its link, which is one of the slide."""
    parts = scene.work.package.parts
    relation = scene.sources.get(data)
    if relation is None or relation.target not in parts:
        return None
    scene.work.used.add(relation.target)
    for pointer in scene.work.package.tree(relation.target).iter(_POINTER):
        drawing = scene.sources.get(pointer.get("relId", ""))
        if drawing is not None and drawing.type == "diagramDrawing" and drawing.target in parts:
            scene.work.used.add(drawing.target)
            return drawing.target
    return None


def _own_links(scene: Scene, drawing: str, mark: str) -> Element:
    """The tree of the drawing, its links put among the slide's under ids of their own."""
    tree = scene.work.package.tree(drawing)
    for key, relation in scene.work.package.relations(drawing).items():
        scene.sources[mark + key] = relation
    for node in tree.iter():
        for name in [name for name in node.attrib if space(name) == space(q("r:id")) and node.get(name)]:
            node.set(name, mark + node.get(name))
    return tree


def _group(frame: Element, shapes: Element) -> Element:
    group = etree.Element(q("p:grpSp"))
    place = frame.find(q("p:xfrm"))
    head = etree.SubElement(group, q("p:nvGrpSpPr"))
    old = next(frame.iter(q("p:cNvPr")), None)
    etree.SubElement(head, q("p:cNvPr"), dict(old.attrib) if old is not None else {"id": "1", "name": ""})
    etree.SubElement(head, q("p:cNvGrpSpPr"))
    etree.SubElement(head, q("p:nvPr"))
    form = etree.SubElement(etree.SubElement(group, q("p:grpSpPr")), q("a:xfrm"))
    at = dict(place.find(q("a:off")).attrib) if place is not None else {"x": "0", "y": "0"}
    size = dict(place.find(q("a:ext")).attrib) if place is not None else {"cx": "1", "cy": "1"}
    for tag, values in (("off", at), ("ext", size), ("chOff", {"x": "0", "y": "0"}), ("chExt", size)):
        etree.SubElement(form, q(f"a:{tag}"), values)
    start = 100_000 + 1000 * int(head[0].get("id", "1")) if head[0].get("id", "1").isdecimal() else 100_000
    for number, shape in enumerate(list(shapes.iter(q("dsp:sp"))), 1):
        group.append(_shape(shape, start + number))
    return group


def _shape(shape: Element, number: int) -> Element:
    """One shape of the drawing, in the words of a slide."""
    for node in list(shape.iter()):
        if node.tag == q("dsp:txXfrm"):
            remove(node)
        elif space(node.tag) == NAMESPACES["dsp"]:
            node.tag = q("p:" + node.tag.rpartition("}")[2])
    shape.attrib.clear()
    for named_node in shape.iter(q("p:cNvPr")):
        named_node.set("id", str(number))
    for head in shape.iter(q("p:nvSpPr")):
        if head.find(q("p:nvPr")) is None:
            etree.SubElement(head, q("p:nvPr"))
    return shape
