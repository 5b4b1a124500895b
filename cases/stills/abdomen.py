"""Stills of the abdominal case: three telescope views, a drain bottle and a CT slice.

In the telescope views the patient's right is at the picture's left, as the camera is held
upright. In the CT slice the patient's right is at the picture's left, as slices are shown.
"""

from __future__ import annotations

import numpy as np
from paint import (
    Canvas,
    Colour,
    Field,
    Point,
    Still,
    branches,
    curve,
    droplets,
    face,
    join,
    nearest,
    relief,
    rod,
    scope,
    step,
    tube,
    vessels,
    vignette,
    write,
)  # fmt: skip
from PIL import Image, ImageDraw

PINK: Colour = (0.86, 0.52, 0.46)
DUSKY: Colour = (0.36, 0.17, 0.22)
FAT: Colour = (0.96, 0.74, 0.42)
VIEW = 352.0
"""Radius of the telescope's field, pixels."""


def _peritoneum(c: Canvas, tint: Colour, depth: float = 34, cell: float = 210) -> None:
    diffuse, glance = relief(c.noise(cell, 5), depth)
    c.lay(np.array(tint, dtype=np.float32) * (0.32 + 0.80 * diffuse)[..., None], 1.0)
    c.shine(0.30 * glance**26 * (0.4 + c.noise(40, 3)))


def _web(c: Canvas, count: int, area: tuple[float, float, float, float], width: tuple[float, float]) -> Field:
    """Fine vessels at random in an area."""
    left, top, right, bottom = area
    trees = []
    for _ in range(count):
        start = (c.rng.uniform(left, right), c.rng.uniform(top, bottom))
        trees += branches(c.rng, start, c.rng.uniform(0, 6.28), c.rng.uniform(60, 190), c.rng.uniform(*width))
    return vessels(c, trees)


def _fat(c: Canvas, cover: Field, tint: Colour = FAT, cell: float = 46) -> None:
    """Lobulated fat where `cover` is 1."""
    lobes = np.abs(c.noise(cell, 3) - 0.5) * 2
    diffuse, glance = relief(1 - np.exp(-lobes * 2.4) + 0.3 * c.noise(150, 3), 20)
    c.lay(np.array(tint, dtype=np.float32) * (0.42 + 0.72 * diffuse)[..., None], cover)
    c.dim(1 - 0.22 * cover * np.exp(-((lobes / 0.10) ** 2)))
    c.shine(0.34 * cover * glance**34 * (0.3 + c.noise(24, 3)))


def _gut(c: Canvas, points: list[Point], radius: float, tint: Colour, gloss: float = 0.5) -> Field:
    """A loop of bowel with the fine vessels of its wall."""
    cover = tube(c, points, radius, tint, gloss=gloss, tight=60, mottle=0.16, shadow=0.55)
    spine = curve(points, 8)
    trees = []
    for x, y in np.repeat(spine[:: max(len(spine) // 9, 1)], 2, axis=0):
        trees += branches(c.rng, (float(x), float(y)), c.rng.uniform(0, 6.28), radius * 1.25, 1.5, 0.35)
    c.lay((tint[0] * 0.58, tint[1] * 0.26, tint[2] * 0.28), 0.45 * vessels(c, trees) * cover)
    return cover


def _blood(c: Canvas, cover: Field, tint: Colour = (0.42, 0.015, 0.02)) -> None:
    diffuse, glance = relief(cover * 0.7 + 0.12 * c.noise(60, 4), 26)
    c.lay(np.array(tint, dtype=np.float32) * (0.55 + 0.65 * diffuse)[..., None], cover * 0.95)
    c.shine(0.55 * glance**50 * cover)


def _grasper(c: Canvas, start: Point, tip: Point, wide: float = 15) -> None:
    """A dissecting forceps: black shaft, jointed steel jaws."""
    sx, sy = start
    tx, ty = tip
    length = float(np.hypot(tx - sx, ty - sy))
    ux, uy = (tx - sx) / length, (ty - sy) / length
    joint = (tx - ux * 78, ty - uy * 78)
    tube(c, [start, joint], wide, (0.13, 0.13, 0.14), gloss=0.5, tight=16, mottle=0.05, shadow=0.5)
    rod(c, joint, (joint[0] + ux * 16, joint[1] + uy * 16), (wide * 0.8, wide * 0.7), 0.7)
    for side in (-1, 1):
        bulge = (joint[0] + ux * 44 - side * uy * 11, joint[1] + uy * 44 + side * ux * 11)
        tube(
            c,
            [(joint[0] + ux * 12, joint[1] + uy * 12), bulge, tip],
            lambda t: 7 - 3.4 * t,
            (0.74, 0.75, 0.78),
            gloss=0.9,
            tight=16,
            mottle=0.06,
            shadow=0.3,
        )


def _scope_text(c: Canvas, clock: str, note: str) -> Still:
    scope(c, VIEW)
    c.grain(0.012)
    image = c.image()
    strips = {
        "left": join(
            write(image, (12, 12), "PELLIMORE, AGNETA", 26, bold=True),
            write(image, (12, 44), "A-990 2281", 26),
            write(image, (12, 76), "F  09.11.1957", 26),
            write(image, (12, 108), "27.02.2024" if note == "index" else "02.03.2024", 26),
            write(image, (12, 140), clock, 26),
        ),
        "bottom": write(image, (880, 684), "ORMSGATE INFIRMARY  OR 6  unit 0107-LK-331", 19, (120, 124, 130)),
        "vertical": write(image, (1244, 60), "MS HASKERDINE-VOLE", 20, (210, 214, 220), turn=270),
    }
    keeps = {"camera": write(image, (1060, 12), "30° scope   12 mmHg", 22, (150, 220, 240))}
    return Still(image, strips, keeps)


def port() -> Still:
    """Left lower 12 mm port from inside: blood runs down its shaft from the abdominal wall."""
    c = Canvas(1280, 720, 21, (0, 0, 0))
    _peritoneum(c, (0.80, 0.40, 0.35))
    c.lay((0.93, 0.74, 0.60), 0.35 * step(0.45, 0.75, c.noise(240, 4)))
    c.lay((0.55, 0.10, 0.11), 0.55 * _web(c, 26, (300, 40, 980, 520), (0.9, 2.2)))
    epigastric = vessels(
        c, [([(820, 20), (806, 120), (786, 220), (742, 300), (716, 420), (700, 560)], 6.5)], 2.2
    )
    c.lay((0.45, 0.11, 0.20), 0.45 * epigastric)
    c.lay(
        (0.45, 0.05, 0.07),
        0.62 * step(104, 30, c.ellipse((752, 236), 96, 70) + 60 * (c.noise(50, 4) - 0.5) + 60),
    )
    _fat(c, step(540, 575, c.y + 80 * (c.noise(150, 4) - 0.5)))
    _gut(c, [(300, 700), (480, 640), (640, 668), (820, 640), (1010, 700)], 62, PINK)
    run = step(
        1.0,
        0.75,
        nearest(c, curve([(756, 244), (742, 320), (700, 404), (664, 470)]))[0] / (15 + 11 * c.noise(70, 3)),
    )
    _blood(c, run, (0.60, 0.02, 0.03))
    sheath = tube(
        c,
        [(772, 212), (690, 330), (606, 452)],
        lambda t: 44 - 4 * t,
        (0.62, 0.70, 0.74),
        gloss=0.75,
        tight=26,
        mottle=0.03,
    )
    c.lay(
        (0.60, 0.02, 0.03),
        0.85 * sheath * step(0.52, 0.66, c.noise(46, 3)) * step(470, 300, c.y) * step(660, 720, c.x),
    )
    mouth = c.ellipse((600, 461), 40, 25, -55)
    c.lay((0.05, 0.05, 0.06), step(2, -2, mouth + 5))
    c.shine(0.6 * np.exp(-((mouth / 2.2) ** 2)))
    pool = step(8, -8, c.ellipse((664, 560), 92, 24) + 30 * (c.noise(60, 3) - 0.5))
    _blood(c, pool)
    for y in (486, 512, 538):
        drop = step(2, -2, c.ellipse((661 + (y % 5), y), 6, 9))
        _blood(c, drop, (0.62, 0.02, 0.03))
    _grasper(c, (240, 640), (640, 372))
    still = _scope_text(c, "09:10", "index")
    still.marks = {"bleeding point": (790, 192), "pool": (664, 560)}
    return still


def gap() -> Still:
    """Last look: the joined bowel, and below it the cut edges of the mesentery standing apart."""
    c = Canvas(1280, 720, 22, (0, 0, 0))
    _peritoneum(c, (0.72, 0.36, 0.32))
    _fat(c, step(90, 190, c.y + 90 * (c.noise(190, 4) - 0.5)))
    for points in (
        [(300, 230), (430, 160), (560, 190), (640, 150)],
        [(980, 470), (900, 560), (760, 640), (640, 700)],
    ):
        _gut(c, points, 56, PINK)
    _gut(c, [(640, 150), (760, 190), (850, 270), (990, 300)], 60, (0.88, 0.56, 0.48))
    hole = c.ellipse((560, 452), 142, 62, -24) + 34 * (c.noise(70, 4) - 0.5)
    c.dim(1 - 0.35 * step(40, 0, hole))
    c.lay((0.18, 0.05, 0.045), step(5, -7, hole))
    inner = step(-4, -30, hole)
    c.lay((0.50, 0.20, 0.18), inner * 0.55 * c.noise(60, 4))
    rim = np.exp(-(((hole + 1) / 6) ** 2))
    c.lay((0.86, 0.50, 0.34), 0.55 * rim)
    c.shine(0.22 * rim * c.noise(26, 3))
    c.lay((0.62, 0.10, 0.11), 0.6 * _web(c, 12, (400, 320, 760, 600), (1.0, 2.4)) * step(0, 20, hole))
    staple = vessels(
        c, [([(706 + 22 * i, 168 + 11 * i), (717 + 22 * i, 160 + 12 * i)], 2.2) for i in range(9)], 0.3
    )
    c.lay((0.82, 0.84, 0.86), 0.9 * staple)
    _grasper(c, (1120, 690), (800, 330))
    _blood(c, step(6, -6, c.ellipse((420, 590), 60, 15) + 16 * (c.noise(40, 3) - 0.5)), (0.5, 0.05, 0.05))
    still = _scope_text(c, "11:07", "index")
    still.marks = {"gap": (560, 452), "join": (800, 226)}
    return still


def loop() -> Still:
    """Second operation: a dark, swollen loop passes behind the joined bowel; the loops above it are pink."""
    c = Canvas(1280, 720, 23, (0, 0, 0))
    _peritoneum(c, (0.66, 0.30, 0.27))
    _fat(c, step(60, 190, c.y + 110 * (c.noise(190, 4) - 0.5)) * 0.95, (0.84, 0.62, 0.34))
    _gut(c, [(310, 300), (420, 190), (560, 150), (700, 120)], 66, PINK)
    _gut(c, [(960, 560), (1010, 440), (990, 300), (900, 210)], 70, (0.84, 0.50, 0.44))
    _gut(
        c,
        [(520, 410), (430, 500), (470, 610), (640, 640), (790, 580), (800, 470), (716, 392)],
        74,
        DUSKY,
        gloss=0.42,
    )
    patch = step(0.56, 0.75, c.noise(90, 4)) * step(240, 120, np.hypot(c.x - 620, c.y - 560))
    c.lay((0.20, 0.06, 0.10), 0.55 * patch)
    _fat(
        c, step(10, -12, c.ellipse((616, 372), 150, 50, -8) + 26 * (c.noise(60, 3) - 0.5)), (0.86, 0.66, 0.38)
    )
    band = tube(
        c,
        [(470, 372), (560, 392), (650, 394), (752, 356)],
        13,
        (0.90, 0.66, 0.52),
        gloss=0.5,
        tight=30,
        shadow=0.7,
    )
    c.lay((0.6, 0.12, 0.12), 0.5 * band * _web(c, 10, (470, 350, 760, 400), (0.8, 1.6)))
    _gut(c, [(690, 130), (640, 240), (640, 320), (540, 330), (400, 360), (300, 350)], 60, (0.86, 0.54, 0.46))
    pool = step(10, -8, c.ellipse((860, 640), 110, 26) + 30 * (c.noise(60, 3) - 0.5))
    _blood(c, pool, (0.30, 0.05, 0.05))
    _grasper(c, (1140, 660), (802, 520))
    droplets(c, step(300, 200, np.hypot(c.x - 620, c.y - 520)), 22, (2, 5), (0.6, 0.3, 0.3), 0.5)
    still = _scope_text(c, "13:12", "second")
    still.marks = {"dark loop": (600, 640), "edge": (612, 394), "pink loop": (985, 360)}
    return still


def bottle() -> Still:
    """Drain bottle beside the bed: little in it, dark, with clot in the tubing."""
    c = Canvas(1280, 720, 24, (0.62, 0.66, 0.66))
    c.lay((0.80, 0.82, 0.80), step(470, 200, c.y) * (0.6 + 0.4 * c.noise(400, 2)))
    weave = 0.5 + 0.5 * np.sin(c.x * 0.9) * np.sin(c.y * 0.9)
    c.lay((0.55, 0.66, 0.74), step(470, 478, c.y) * 0.9)
    c.dim(1 - 0.10 * weave * step(470, 480, c.y))
    c.dim(1 - 0.5 * step(40, -30, c.ellipse((640, 640), 300, 44)))
    left, right, top, bottom = 470.0, 810.0, 150.0, 640.0
    across = (c.x - (left + right) / 2) / ((right - left) / 2)
    body = (
        step(1.0, 0.985, np.abs(across))
        * step(top - 4, top + 4, c.y)
        * step(bottom + 3, bottom - 3, c.y + 26 * across**4)
    )
    c.lay((0.86, 0.90, 0.92), 0.62 * body)
    surface = 548 + 5 * np.sin(c.x / 60) - 10 * (1 - across**2)
    dark = (
        np.array((0.30, 0.035, 0.03), dtype=np.float32)
        * (0.65 + 0.6 * np.clip(0.4 - across, 0, 1) + 0.3 * c.noise(90, 4))[..., None]
    )
    fluid = body * step(surface - 1, surface + 2, c.y)
    c.lay(dark, 0.96 * fluid)
    c.lay((0.10, 0.01, 0.015), 0.85 * fluid * step(0.50, 0.62, c.noise(70, 4)) * step(570, 610, c.y))
    c.lay((0.62, 0.20, 0.16), 0.7 * body * np.exp(-(((c.y - surface) / 3.5) ** 2)))
    c.shine(
        0.40 * body * np.exp(-(((across + 0.74) / 0.05) ** 2))
        + 0.16 * body * np.exp(-(((across - 0.80) / 0.035) ** 2))
    )
    c.dim(1 - 0.35 * body * step(0.86, 1.0, np.abs(across)))
    tube(c, [(640, 60), (640, 150)], 44, (0.30, 0.46, 0.66), gloss=0.5, tight=20, mottle=0.03)
    tube(c, [(480, 142), (800, 142)], 24, (0.30, 0.46, 0.66), gloss=0.5, tight=20, mottle=0.03)
    line = [(654, 70), (740, 20), (900, 60), (1030, 200), (1120, 420), (1290, 520)]
    tube(c, line, 15, (0.80, 0.82, 0.84), gloss=0.7, tight=24, mottle=0.03)
    clot = step(10, 7, nearest(c, curve(line))[0]) * step(
        0.52, 0.58, c.noise(120, 3) + 0.25 * step(820, 1000, c.x) * step(1180, 1050, c.x)
    )
    c.lay((0.26, 0.02, 0.03), 0.92 * clot)
    vignette(c, 0.5, 0.75)
    c.grain(0.012)
    image = c.image()
    _graduate(image)
    still = Still(image)
    still.strips = _bottle_labels(image)
    still.keeps = {"graduations": (704, 200, 104, 440)}
    still.marks = {"level": (640, 546), "clot": (1090, 350)}
    return still


def _graduate(image: Image.Image) -> None:
    pen = ImageDraw.Draw(image)
    for i in range(11):
        y = 626 - i * 37
        pen.line((778 if i % 2 else 762, y, 804, y), fill=(40, 60, 90), width=2)
        if i % 2 == 0 and i:
            pen.text((712, y - 13), f"{i * 25}", font=face(24), fill=(40, 60, 90))
    pen.text((716, 204), "mL", font=face(22), fill=(40, 60, 90))


def _bottle_labels(image: Image.Image) -> dict[str, tuple[int, int, int, int]]:
    pen = ImageDraw.Draw(image)
    pen.rectangle((490, 214, 690, 356), fill=(246, 246, 240), outline=(150, 150, 150))
    for row, words in enumerate(
        ("PELLIMORE Agneta", "A-990 2281  9.11.57", "Wd 7 Kittiwake b12", "DRAIN L  29/2  06.00")
    ):
        write(image, (494, 219 + 33 * row), words, 21, (20, 40, 120))
    band = Image.new("RGB", (190, 50), (250, 250, 250))
    write(band, (4, 8), "S/N 7731-0162-B", 20, (90, 90, 96))
    shape = Image.new("L", band.size, 255).rotate(-8, Image.Resampling.BICUBIC, expand=True)
    image.paste(band.rotate(-8, Image.Resampling.BICUBIC, expand=True), (930, 604), shape)
    return {"label": (488, 212, 205, 147), "serial": (928, 602, 202, 82)}


# CT: patient's right at picture left. Values are grey, 0 to 1, at an abdominal window.

CT_MM = 1.7
"""Pixels to the millimetre."""


def _organ(c: Canvas, centre: Point, size: tuple[float, float], turn: float, ragged: float = 10) -> Field:
    return step(3, -3, c.ellipse(centre, size[0], size[1], turn) + ragged * (c.noise(70, 3) - 0.5))


def _ct_body(c: Canvas) -> Field:
    """Skin, fat, muscle, spine and kidneys; return the abdominal cavity."""
    grey = lambda v: (v, v, v)  # noqa: E731
    c.lay(grey(0.24), step(3, -3, c.ellipse((640, 372), 372, 268)))
    c.lay(grey(0.52), step(2, -2, np.abs(c.ellipse((640, 372), 372, 268)) - 2.5))
    wall = c.ellipse((640, 366), 312, 208)
    c.lay(grey(0.50), step(3, -3, wall) * (0.9 + 0.2 * c.noise(16, 2)))
    cavity = step(3, -3, c.ellipse((640, 352), 288, 178))
    c.lay(grey(0.23), cavity)
    c.lay(grey(0.26), cavity * 0.4 * c.noise(30, 3))
    for x in (545, 735):
        c.lay(grey(0.52), _organ(c, (x, 494), (52, 38), 0))
        c.lay(grey(0.50), _organ(c, (640 + (x - 640) * 1.15, 560), (76, 44), 0, 6))
    spine = _organ(c, (640, 474), (52, 42), 0, 4)
    c.lay(grey(0.86), spine)
    c.lay(grey(0.68), step(3, -3, c.ellipse((640, 474), 42, 33)) * (0.7 + 0.6 * c.noise(10, 2)))
    c.lay(grey(0.36), step(3, -3, c.ellipse((640, 526), 20, 15)))
    c.lay(
        grey(0.88),
        _organ(c, (640, 574), (12, 36), 0, 3)
        + _organ(c, (590, 524), (34, 9), 18, 3)
        + _organ(c, (690, 524), (34, 9), -18, 3),
    )
    for x, turn in ((468, 24), (812, -24)):
        c.lay(grey(0.70), _organ(c, (x, 454), (46, 58), turn, 5))
        c.lay(grey(0.34), _organ(c, (x + (14 if x < 640 else -14), 456), (18, 26), turn, 5))
    c.lay(grey(0.76), _organ(c, (668, 410), (21, 21), 0, 2))
    c.lay(grey(0.62), _organ(c, (606, 412), (27, 19), 8, 2))
    return cavity


def _ct_loop(c: Canvas, centre: Point, radius: tuple[float, float], turn: float, level: float | None) -> None:
    """A loop of bowel cut across: enhancing wall, fluid, and gas above a flat level (gas lies in front)."""
    edge = c.ellipse(centre, radius[0], radius[1], turn) + 9 * (c.noise(44, 3) - 0.5)
    c.lay((0.60, 0.60, 0.60), step(2, -2, edge))
    inside = step(-3, -6, edge)
    c.lay((0.41, 0.41, 0.41), inside)
    if level is not None:
        c.lay((0.015, 0.015, 0.015), inside * step(level + 1, level - 1, c.y))


def _ct_swirl(c: Canvas, at: Point) -> None:
    """Vessels of the mesentery wound about a point, in hazy fat, with a collapsed loop among them."""
    haze = step(78, 30, np.hypot(c.x - at[0], (c.y - at[1]) * 1.15) + 26 * (c.noise(50, 3) - 0.5))
    c.lay((0.36, 0.36, 0.36), 0.75 * haze)
    for start, turns, wide, out in ((0.3, 4.6, 3.4, 9.6), (2.2, 3.6, 2.4, 11.5), (4.1, 4.0, 2.8, 10.2)):
        t = np.linspace(0, turns, 30)
        wobble = 1 + 0.16 * np.sin(2.3 * t + 3 * start) + 0.07 * np.sin(5.1 * t + start)
        reach = (6 + out * t) * wobble
        line = np.stack([at[0] + reach * np.cos(t + start), at[1] + 0.86 * reach * np.sin(t + start)], axis=1)
        far, along = nearest(c, line)
        c.lay((0.72, 0.72, 0.72), (0.92 - 0.4 * along) * step(1.3, 0.6, far / (wide * (1.15 - 0.5 * along))))
    c.lay(
        (0.56, 0.56, 0.56),
        0.9 * step(2, -2, c.ellipse((at[0] + 8, at[1] + 34), 30, 9, -28) + 6 * (c.noise(24, 2) - 0.5)),
    )
    for dx, dy, r in ((-30, -38, 5), (44, -26, 4), (-46, 22, 4.5), (30, 48, 3.5)):
        c.lay((0.66, 0.66, 0.66), step(r + 1, r - 1, np.hypot(c.x - at[0] - dx, c.y - at[1] - dy)))


def slice_() -> Still:
    """Axial slice: fluid levels, a swirl of mesenteric vessels on the right, a mass in the left wall."""
    c = Canvas(1280, 720, 25, (0.012, 0.012, 0.012))
    _ct_body(c)
    for centre, radius, turn, level in (
        ((664, 252), (45, 33), 8, 236), ((752, 262), (38, 36), 20, 246), ((588, 238), (40, 28), -12, 226),
        ((718, 336), (40, 30), -24, None), ((800, 330), (34, 42), 6, 310), ((640, 330), (38, 26), 14, None),
        ((790, 404), (36, 26), -10, None), ((516, 256), (38, 34), 10, 242), ((856, 380), (26, 30), 0, 366),
    ):  # fmt: skip
        _ct_loop(c, centre, radius, turn, level)
    _ct_loop(c, (414, 336), (30, 38), 0, 322)
    _ct_swirl(c, (512.0, 362.0))
    mass = c.ellipse((884, 286), 26, 62, -34) + 8 * (c.noise(40, 3) - 0.5)
    c.lay((0.60, 0.60, 0.60), step(3, -3, mass) * (0.9 + 0.2 * c.noise(24, 3)))
    c.lay((0.72, 0.72, 0.72), 0.5 * step(-8, -16, mass) * step(0.5, 0.7, c.noise(30, 3)))
    c.blur(1.1)
    body = step(3, -3, c.ellipse((640, 372), 376, 272))
    speck = np.asarray(Image.fromarray(c.rng.normal(0, 1, (720, 1280)).astype(np.float32)), dtype=np.float32)
    speck = (speck + np.roll(speck, 1, 0) + np.roll(speck, 1, 1)) / 3
    c.rgb = c.rgb + (0.045 * speck * body + 0.006)[..., None]
    c.lay(
        (0.30, 0.30, 0.30),
        0.7
        * step(2, -1, np.abs(c.y - 668 - ((c.x - 640) / 90) ** 2) - 3)
        * step(430, 380, np.abs(c.x - 640)),
    )
    return _ct_text(c)


def _ct_text(c: Canvas) -> Still:
    image = c.image()
    strips = {
        "name": join(
            write(image, (10, 8), "PELLIMORE^AGNETA", 24),
            write(image, (10, 38), "A9902281   F   066Y", 24),
            write(image, (10, 68), "Acc 24-CT-008817", 24),
        ),
        "place": join(
            write(image, (968, 8), "ORMSGATE INFIRMARY", 24),
            write(image, (968, 38), "01-Mar-2024  11:34:14", 24),
            write(image, (968, 68), "Ref: WRATHWICK J", 24),
        ),
        "grey": write(image, (1010, 690), "stn CTOG2  0107-88-52", 18, (92, 94, 98)),
    }
    pen = ImageDraw.Draw(image)
    long = round(100 * CT_MM)
    pen.line((1180, 400, 1180, 400 + long), fill=(235, 235, 235), width=3)
    for i in range(11):
        pen.line(
            (1180 - (10 if i % 5 else 18), 400 + i * long / 10, 1180, 400 + i * long / 10),
            fill=(235, 235, 235),
            width=2,
        )
    keeps = {
        "side": join(
            write(image, (214, 344), "R", 34, bold=True), write(image, (1040, 344), "L", 34, bold=True)
        ),
        "scale": join((1160, 396, 22, long + 8), write(image, (1192, 400 + long // 2 - 12), "10 cm", 22)),
        "window": write(image, (10, 686), "W 350  L 50   5 mm   portal venous", 22, (235, 235, 235)),
    }
    marks = {"swirl": (512.0, 362.0), "wall mass": (884.0, 286.0), "fluid level": (664.0, 236.0)}
    return Still(image, strips, keeps, marks)


PICTURES = {
    "port.jpg": port, "last-look.jpg": gap, "drain.jpg": bottle, "slice.jpg": slice_, "second-look.jpg": loop,
}  # fmt: skip
