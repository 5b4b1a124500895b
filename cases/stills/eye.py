"""Stills of the eye case: three operating-microscope frames and a B-scan.

The surgeon sits at the patient's head, so 12 o'clock is at the foot of the picture. In a
right eye the temporal side (9 o'clock seen from the front) is then at the picture's right,
and a clock hour stands half a turn from where it is seen from the front (`at_hour`).
"""

from __future__ import annotations

import numpy as np
from paint import (
    Box,
    Canvas,
    Field,
    Point,
    Still,
    branches,
    droplets,
    join,
    noise,
    relief,
    rod,
    shifted,
    step,
    tube,
    vessels,
    vignette,
    write,
)  # fmt: skip
from PIL import Image, ImageDraw

CENTRE = (610.0, 352.0)
CORNEA = 205.0
"""Radius of the cornea, pixels; 12 mm across, so 34 pixels to the millimetre."""
MM = CORNEA / 6


def at_hour(hour: float, radius: float) -> Point:
    """Where an anatomical clock hour lies on the picture, seen from the patient's head."""
    angle = np.deg2rad((hour + 6) * 30 - 90)
    return float(CENTRE[0] + radius * np.cos(angle)), float(CENTRE[1] + radius * np.sin(angle))


def _polar(c: Canvas) -> tuple[Field, Field]:
    return np.hypot(c.x - CENTRE[0], c.y - CENTRE[1]), np.arctan2(c.y - CENTRE[1], c.x - CENTRE[0])


def _ring_noise(c: Canvas, radius: Field, angle: Field, spokes: int) -> Field:
    """Noise drawn out along the radius, as iris fibres are."""
    sheet = noise(c.rng, 1440, 64, 1440 / spokes, 3)
    column = ((angle + np.pi) / (2 * np.pi) * 1439).astype(int)
    row = np.clip(radius / CORNEA * 40, 0, 63).astype(int)
    return sheet[row, column]


def _drape(c: Canvas) -> None:
    folds = c.noise(260, 5)
    diffuse, glance = relief(folds, 90)
    c.lay(np.array((0.20, 0.42, 0.50), dtype=np.float32) * (0.35 + 0.9 * diffuse)[..., None], 1.0)
    c.shine(0.28 * glance**30)


def _globe(c: Canvas) -> Field:
    """White of the eye in the opening between the lids; return its coverage."""
    edge = c.ellipse((622, 360), 560, 318)
    open_ = step(3, -8, edge)
    far = np.hypot((c.x - 610) / 640, (c.y - 352) / 500)
    white = np.array((0.93, 0.86, 0.83), dtype=np.float32) * (1.02 - 0.55 * far**2)[..., None]
    c.dim(1 - 0.6 * step(30, -4, edge))
    c.lay(white, open_)
    c.lay((0.86, 0.52, 0.50), open_ * 0.55 * c.noise(190, 4) * step(-140, 0, edge))
    trees = []
    for angle in c.rng.uniform(0, 2 * np.pi, 64):
        start = (622 + 560 * np.cos(angle), 360 + 318 * np.sin(angle))
        inward = np.arctan2(CENTRE[1] - start[1], CENTRE[0] - start[0])
        trees += branches(
            c.rng, start, inward + c.rng.normal(0, 0.3), c.rng.uniform(110, 240), c.rng.uniform(0.9, 2.4)
        )
    c.lay((0.68, 0.16, 0.15), 0.62 * vessels(c, trees) * open_)
    c.shine(0.20 * step(0.62, 0.9, c.noise(34, 3)) * open_ * step(-150, -20, edge))
    return open_


def _speculum(c: Canvas) -> None:
    """Wire loops that hold the lids, above and below; the hinge is on the temporal side (right)."""
    for y, bend in ((62, 34), (664, -30)):
        tube(
            c,
            [
                (300, y + bend * 1.6),
                (430, y + bend * 0.3),
                (640, y),
                (850, y + bend * 0.3),
                (1010, y + bend * 1.6),
            ],
            8,
            (0.72, 0.73, 0.76),
            gloss=0.9,
            tight=16,
            mottle=0.05,
        )
    tube(c, [(1010, 116), (1120, 190), (1190, 300)], 7, (0.7, 0.71, 0.74), gloss=0.9, tight=16, mottle=0.05)
    tube(c, [(1010, 616), (1120, 540), (1190, 410)], 7, (0.7, 0.71, 0.74), gloss=0.9, tight=16, mottle=0.05)


def _iris(c: Canvas, peak: float, forward: float) -> None:
    """Iris with its fibres; `peak` draws the pupil towards 11 o'clock, `forward` bows it there."""
    radius, angle = _polar(c)
    fibres = _ring_noise(c, radius, angle, 210)
    coarse = _ring_noise(c, radius, angle, 46)
    tone = 0.55 + 0.5 * fibres + 0.25 * (coarse - 0.5)
    brown = np.array((0.40, 0.25, 0.14), dtype=np.float32) * tone[..., None]
    c.lay(brown, step(CORNEA - 4, CORNEA - 12, radius))
    collar = np.exp(-(((radius - 118 - 8 * (coarse - 0.5)) / 10) ** 2))
    c.lay((0.62, 0.44, 0.26), 0.45 * collar)
    eleven = np.arctan2(at_hour(11, 1)[1] - CENTRE[1], at_hour(11, 1)[0] - CENTRE[0])
    toward = np.exp(-((np.angle(np.exp(1j * (angle - eleven))) / 0.55) ** 2)).astype(np.float32)
    rim = toward * step(120, CORNEA - 14, radius) * step(CORNEA - 2, CORNEA - 12, radius)
    c.lay((0.66, 0.47, 0.29), 0.75 * forward * rim * (0.55 + 0.6 * fibres))
    c.shine(0.20 * forward * rim * step(0.55, 0.9, fibres))
    crease = np.exp(-(((radius - 138) / 5) ** 2)) * toward
    c.dim(1 - 0.6 * forward * crease)
    c.dim(
        1
        - 0.45
        * (1 - forward * toward)
        * step(CORNEA - 40, CORNEA - 6, radius)
        * step(CORNEA, CORNEA - 4, radius)
    )
    _pupil_edge(c, peak, toward)


def _pupil_radius(peak: float, toward: Field) -> Field:
    return 86 + 26 * peak * toward


def _pupil_edge(c: Canvas, peak: float, toward: Field) -> None:
    radius, _ = _polar(c)
    c.lay((0.10, 0.05, 0.03), np.exp(-(((radius - _pupil_radius(peak, toward) - 3) / 5) ** 2)) * 0.85)


def _reflex(c: Canvas, peak: float, glow: float, dome: float) -> None:
    """Light back from the fundus; `dome` brings a dark brown crescent in from the temporal side."""
    radius, angle = _polar(c)
    eleven = np.arctan2(at_hour(11, 1)[1] - CENTRE[1], at_hour(11, 1)[0] - CENTRE[0])
    toward = np.exp(-((np.angle(np.exp(1j * (angle - eleven))) / 0.55) ** 2)).astype(np.float32)
    inside = step(2, -2, radius - _pupil_radius(peak, toward))
    red = (
        np.array((0.86, 0.33, 0.12), dtype=np.float32) * (glow * (1.12 - 0.5 * (radius / 90) ** 2))[..., None]
    )
    c.lay(red * (0.85 + 0.3 * c.noise(40, 3))[..., None], inside)
    ring = np.exp(-(((radius - 72) / 1.8) ** 2))
    c.shine(0.16 * ring * inside * (0.4 + c.noise(70, 2)), (1, 0.9, 0.8))
    if dome:
        edge = c.ellipse((CENTRE[0] + 118, CENTRE[1] - 22), 104, 122, 12)
        shade = step(14, -12, edge) * inside * dome
        brown = np.array((0.16, 0.075, 0.045), dtype=np.float32) * (0.8 + 0.5 * c.noise(30, 3))[..., None]
        c.lay(brown, 0.95 * shade)
        c.shine(0.13 * np.exp(-((edge / 7) ** 2)) * inside * dome, (0.9, 0.55, 0.35))


def _limbus_and_lights(c: Canvas, haze: float) -> None:
    radius, _ = _polar(c)
    ring = np.exp(-(((radius - CORNEA) / 11) ** 2))
    c.lay((0.60, 0.58, 0.60), 0.75 * ring)
    c.lay((0.78, 0.80, 0.84), haze * step(CORNEA, CORNEA - 30, radius) * (0.6 + 0.6 * c.noise(120, 3)))
    for dx, dy, size, power in ((-38, -30, 13, 1.0), (34, -36, 11, 0.85), (-4, 66, 7, 0.35)):
        c.shine(power * step(size, size * 0.4, np.hypot(c.x - CENTRE[0] - dx, c.y - CENTRE[1] - dy)))
        c.shine(power * 0.16 * np.exp(-(((c.x - CENTRE[0] - dx) ** 2 + (c.y - CENTRE[1] - dy) ** 2) / 900)))


def _dissection(c: Canvas) -> None:
    """Conjunctiva opened between 9.30 and 12 (lower right): bare sclera, plate, tube and sutures."""
    radius, angle = _polar(c)
    mid = np.arctan2(at_hour(10.6, 1)[1] - CENTRE[1], at_hour(10.6, 1)[0] - CENTRE[0])
    swing = np.abs(np.angle(np.exp(1j * (angle - mid))))
    ragged = swing + 0.26 * (c.noise(120, 4) - 0.5)
    bare = (
        step(0.62, 0.55, ragged)
        * step(CORNEA + 2, CORNEA + 10, radius)
        * step(CORNEA + 186, CORNEA + 172, radius)
    )
    diffuse, glance = relief(c.noise(110, 3), 22)
    c.lay(np.array((0.97, 0.94, 0.91), dtype=np.float32) * (0.55 + 0.55 * diffuse)[..., None], bare)
    c.lay((0.60, 0.07, 0.06), bare * 0.75 * step(0.60, 0.74, c.noise(80, 4)))
    lip = (
        np.exp(-(((ragged - 0.60) / 0.035) ** 2))
        * step(CORNEA, CORNEA + 14, radius)
        * step(CORNEA + 190, CORNEA + 165, radius)
    )
    c.lay((0.80, 0.42, 0.40), 0.85 * lip)
    c.shine(0.35 * lip * glance**20)
    plate = c.ellipse(at_hour(10.6, CORNEA + 196), 150, 72, -46)
    body = step(2, -3, plate)
    c.dim(1 - 0.35 * step(16, -2, shifted(plate, 0, 6)))
    c.lay((0.86, 0.87, 0.88), 0.78 * body)
    c.shine(0.25 * np.exp(-(((plate + 6) / 4) ** 2)) + 0.12 * step(0.55, 0.8, c.noise(90, 3)) * body)
    for hour in (10.15, 11.05):
        x, y = at_hour(hour, CORNEA + 128)
        c.lay((0.72, 0.73, 0.75), step(9, 7, np.hypot(c.x - x, c.y - y)))
        c.lay((0.05, 0.07, 0.16), step(4, 2.5, np.hypot(c.x - x, c.y - y)))


def _tube_to(c: Canvas, tip: Point) -> None:
    root = at_hour(10.65, CORNEA + 128)
    bend = at_hour(10.95, CORNEA + 62)
    tube(
        c,
        [root, bend, at_hour(11, CORNEA + 8), tip],
        9,
        (0.83, 0.86, 0.88),
        gloss=0.7,
        tight=20,
        mottle=0.03,
        shadow=0.3,
    )
    for hour, away in ((10.80, 92), (10.88, 76)):
        x, y = at_hour(hour, CORNEA + away)
        c.lay((0.36, 0.16, 0.45), step(7, 5, np.hypot((c.x - x) * 0.7, (c.y - y))))


def _instruments(c: Canvas, tip: Point, grip: Point, needle: bool) -> None:
    if needle:
        rod(c, (1180, 700), (tip[0] + 120, tip[1] + 88), (17, 11), 0.72)
        rod(c, (tip[0] + 122, tip[1] + 90), tip, (5.5, 3.2), 0.88)
    else:
        rod(c, (1100, 716), tip, (13, 3.5), 0.7)
        rod(c, (1056, 726), (tip[0] - 4, tip[1] + 5), (13, 3.5), 0.66)
    rod(c, (330, 724), grip, (14, 3.5), 0.7)
    rod(c, (286, 712), (grip[0] - 5, grip[1] - 3), (14, 3.5), 0.66)


def _finish(c: Canvas, clock: str, elapsed: str) -> Still:
    vignette(c, 0.85, 0.72)
    far = np.hypot(c.x - 610, c.y - 352)
    c.blur(2.2, step(330, 560, far) * 0.8)
    c.grain(0.014)
    image = c.image()
    strips = {
        "top": join(
            write(
                image,
                (0, 0),
                "QUESSENBY, IVO R.    H 9990 417    M    12/03/2025",
                25,
                back=(8, 10, 14),
                bold=True,
            ),
            write(image, (640, 0), f"THEATRE 4 QUARNMOOR EYE UNIT   {clock}   REC", 25, back=(8, 10, 14)),
        ),
        "grey": write(image, (1008, 688), f"cam s/n VX-20447-K  {elapsed}", 19, (132, 136, 140)),
        "vertical": write(image, (1246, 250), "DR M TARNVOLK  LIST 2B", 21, (226, 230, 120), turn=90),
    }
    keeps = {"orientation": _orientation(image), "scale": _scale(image, (24, 664), MM, "5 mm")}
    return Still(image, strips, keeps)


def _orientation(image: Image.Image) -> Box:
    """Say which eye and which way round: the picture has 12 o'clock at its foot."""
    pen = ImageDraw.Draw(image)
    box = write(
        image, (24, 560), "R eye   12 o'clock at foot   T at right", 22, (240, 240, 240), back=(20, 24, 28)
    )
    pen.line((24 + box[2] + 8, 574, 24 + box[2] + 44, 574), fill=(240, 240, 240), width=3)
    pen.polygon(
        [(24 + box[2] + 44, 567), (24 + box[2] + 44, 581), (24 + box[2] + 56, 574)], fill=(240, 240, 240)
    )
    return join(box, (box[0] + box[2], 566, 58, 18))


def _scale(image: Image.Image, at: tuple[int, int], per_mm: float, words: str) -> Box:
    pen = ImageDraw.Draw(image)
    long = round(5 * per_mm)
    pen.line((at[0], at[1], at[0] + long, at[1]), fill=(245, 245, 245), width=4)
    for x in (at[0], at[0] + long):
        pen.line((x, at[1] - 7, x, at[1] + 7), fill=(245, 245, 245), width=3)
    label = write(image, (at[0] + long + 10, at[1] - 14), words, 22, (245, 245, 245))
    return join((at[0] - 2, at[1] - 8, long + 4, 17), label)


def _scene(
    seed: int, *, peak: float = 0, forward: float = 0, glow: float = 1, dome: float = 0, haze: float = 0.05
) -> Canvas:
    c = Canvas(1280, 720, seed, (0.1, 0.2, 0.25))
    _drape(c)
    _globe(c)
    _speculum(c)
    _iris(c, peak, forward)
    _reflex(c, peak, glow, dome)
    _limbus_and_lights(c, haze)
    _dissection(c)
    return c


def ready() -> Still:
    """Plate in place, tube lying on the limbus before the eye is entered; deep chamber, bright reflex."""
    c = _scene(11)
    tip = at_hour(11, CORNEA - 62)
    _tube_to(c, tip)
    _instruments(c, at_hour(11, CORNEA + 60), at_hour(2.4, CORNEA + 30), needle=False)
    still = _finish(c, "14:40:00", "F1 00:18:20")
    still.marks = {"tube": at_hour(11, CORNEA + 8), "plate": at_hour(10.6, CORNEA + 150), "reflex": CENTRE}
    return still


def shallow() -> Still:
    """Needle out of its track at 11 o'clock: iris forward there, pupil drawn towards it, reflex still red."""
    c = _scene(12, peak=0.75, forward=1.0, glow=0.92, haze=0.07)
    _tube_to(c, at_hour(10.9, CORNEA + 40))
    _instruments(c, at_hour(11, CORNEA + 4), at_hour(2.2, CORNEA + 26), needle=True)
    x, y = at_hour(10.55, CORNEA + 6)
    droplets(c, step(40, 20, np.hypot(c.x - x, c.y - y)), 5, (3, 7), (0.85, 0.88, 0.9), 0.6)
    still = _finish(c, "14:56:35", "F2 00:05:25")
    still.marks = {"iris forward": at_hour(11, 168), "peaked pupil": at_hour(11, 104), "reflex": CENTRE}
    return still


def reflex() -> Still:
    """Tube in; the reflex is dull, with a dark crescent on the temporal side (right of the picture)."""
    c = _scene(13, peak=0.45, forward=0.9, glow=0.62, dome=1.0, haze=0.10)
    _tube_to(c, at_hour(11, CORNEA - 58))
    _instruments(c, at_hour(10.7, CORNEA + 52), at_hour(2.3, CORNEA + 28), needle=False)
    still = _finish(c, "14:59:35", "F2 00:08:25")
    still.marks = {"crescent": (CENTRE[0] + 50, CENTRE[1] - 12), "tube tip": at_hour(11, CORNEA - 58)}
    return still


# B-scan: the probe is at the left; the picture is made in (depth, angle) and bent into a fan.

PROBE = (150.0, 362.0)
DEPTH = 900.0
BACK = 690.0
"""Distance of the back wall of the eye from the probe, pixels."""
SCAN_MM = BACK / 25.5
DOMES = ((-0.235, 0.17, 176.0), (0.24, 0.135, 128.0))
"""Angle from the axis, half width (radians) and height (pixels) of the two domes; above is temporal."""


def _echo(c: Canvas) -> Field:
    """Brightness of the scan before it is bent: rows are depth, columns angle."""
    depth, angle = np.mgrid[0:900, 0:640].astype(np.float32)
    angle = (angle / 639 - 0.5) * 0.94
    wall = BACK - 70 * angle**2 * 4 + 5 * np.sin(angle * 19)
    front = wall.copy()
    for middle, half, tall in DOMES:
        front = np.minimum(front, wall - tall * np.clip(1 - ((angle - middle) / half) ** 2, 0, 1) ** 0.62)
    raised = wall - front > 6
    level = 0.02 + 0.035 * np.exp(-(((depth - 60) / 60) ** 2)) * 6
    level = level + 0.55 * np.exp(-(((depth - 108) / 9) ** 2)) * np.exp(-((angle / 0.17) ** 2))
    level = np.where(depth > front, 0.24 + 0.12 * noise(c.rng, 640, 900, 70, 3), level)
    level = level + 0.95 * np.exp(-(((depth - front) / 5.5) ** 2)) * np.where(raised, 0.85, 1.0)
    level = np.where(
        depth > wall,
        0.78 * np.exp(-(depth - wall) / 130) * (0.6 + 0.7 * noise(c.rng, 640, 900, 26, 3)),
        level,
    )
    level = level + 0.8 * np.exp(-(((depth - wall) / 7) ** 2))
    nerve = np.exp(-(((angle - 0.015) / 0.042) ** 2)) * (depth > wall + 12)
    return np.clip(level * (1 - 0.86 * nerve), 0, 1.2)


def bscan() -> Still:
    """B-scan through the closed lid: two domes that do not touch, solid echoes inside, nerve shadow."""
    c = Canvas(1280, 720, 14, (0.015, 0.016, 0.02))
    echo = _echo(c)
    speckle = c.rng.rayleigh(0.8, echo.shape).astype(np.float32)
    speckle = (speckle + np.roll(speckle, 1, 1) + np.roll(speckle, 2, 1) + np.roll(speckle, 1, 0)) / 4
    raw = np.clip(echo * speckle, 0, 1) ** 0.8
    depth = np.hypot(c.x - PROBE[0] + 60, c.y - PROBE[1])
    angle = np.arctan2(c.y - PROBE[1], c.x - PROBE[0] + 60)
    row, column = np.clip(depth, 0, 899).astype(int), np.clip((angle / 0.94 + 0.5) * 639, 0, 639).astype(int)
    fan = step(0.47, 0.462, np.abs(angle)) * step(898, 892, depth) * step(56, 62, depth)
    c.lay(raw[row, column][..., None] * np.array((0.96, 0.98, 1.0), dtype=np.float32), fan)
    c.grain(0.008)
    image = c.image()
    strips = {
        "top": write(
            image,
            (0, 0),
            "Quessenby Ivo   14/02/1951   H9990417   12-03-2025 15:13",
            26,
            (255, 232, 150),
            back=(26, 28, 36),
        ),
        "grey": write(image, (930, 690), "Quarnmoor Eye Unit  probe 20-555-0188", 18, (104, 108, 114)),
        "vertical": write(image, (10, 70), "OPERATOR: E. DREYLOCH", 20, (170, 176, 184), turn=90),
    }
    keeps = {
        "scale": _scale(image, (1010, 640), SCAN_MM, "5 mm"),
        "setting": write(image, (1010, 60), "R eye  10 MHz  gain 78 dB", 23, (150, 235, 170)),
    }
    keeps["side"] = write(image, (660, 44), "T", 30, (150, 235, 170), bold=True)
    still = Still(image, strips, keeps)
    for name, (middle, _, tall) in zip(("large dome", "small dome"), DOMES, strict=True):
        reach = BACK - 70 * middle**2 * 4 - tall
        still.marks[name] = (
            PROBE[0] - 60 + (reach + 30) * float(np.cos(middle)),
            PROBE[1] + (reach + 30) * float(np.sin(middle)),
        )
    still.marks["wall between"] = (PROBE[0] - 60 + BACK, PROBE[1])
    return still


PICTURES = {"plate-ready.jpg": ready, "needle-track.jpg": shallow, "tube-in.jpg": reflex, "scan.jpg": bscan}
