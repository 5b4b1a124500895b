"""Stills of the airway case: two screens, a breathing-system filter and the skin of the back."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from paint import (
    Box,
    Canvas,
    Point,
    Still,
    droplets,
    face,
    join,
    relief,
    step,
    tube,
    vignette,
    write,
)  # fmt: skip
from PIL import Image, ImageDraw

GREEN, CYAN, WHITE, RED, YELLOW = (
    (90, 235, 110),
    (90, 220, 235),
    (235, 235, 235),
    (255, 96, 84),
    (250, 220, 90),
)
Wave = Callable[[np.ndarray], np.ndarray]


def _trace(
    pen: ImageDraw.ImageDraw, area: Box, wave: Wave, colour: tuple[int, int, int], sweep: float = 0.78
) -> None:
    """Draw a waveform (0 to 1 over time 0 to 1) with the blank of the sweep."""
    left, top, wide, tall = area
    t = np.linspace(0, 1, wide * 2)
    points = [(left + a * wide, top + tall * (1 - b)) for a, b in zip(t, wave(t), strict=True)]
    cut = int(len(points) * sweep)
    pen.line(points[:cut], fill=colour, width=3, joint="curve")
    pen.line(points[cut + 36 :], fill=tuple(v // 2 for v in colour), width=3, joint="curve")


def _beats(rate: float) -> Wave:
    def wave(t: np.ndarray) -> np.ndarray:
        p = (t * rate) % 1
        spike = np.exp(-(((p - 0.30) / 0.018) ** 2)) * 0.80 - np.exp(-(((p - 0.345) / 0.02) ** 2)) * 0.22
        return (
            0.25
            + spike
            + 0.08 * np.exp(-(((p - 0.16) / 0.04) ** 2))
            + 0.16 * np.exp(-(((p - 0.62) / 0.07) ** 2))
        )

    return wave


def _pulse(rate: float, size: float) -> Wave:
    def wave(t: np.ndarray) -> np.ndarray:
        p = (t * rate) % 1
        return 0.12 + size * (
            np.exp(-(((p - 0.28) / 0.12) ** 2)) + 0.34 * np.exp(-(((p - 0.60) / 0.14) ** 2))
        )

    return wave


def _capnogram(breaths: float, height: float, slope: float) -> Wave:
    """Expired carbon dioxide; with `slope` near 1 the plateau climbs like a fin."""

    def wave(t: np.ndarray) -> np.ndarray:
        p = (t * breaths) % 1
        rise = np.clip((p - 0.34) / (0.04 + 0.40 * slope), 0, 1)
        shape = rise ** (0.55 + 0.3 * slope) * (0.86 + 0.14 * np.clip((p - 0.4) / 0.5, 0, 1))
        return 0.06 + height * np.where((p > 0.34) & (p < 0.93), shape, 0)

    return wave


def _bezel(screen: Image.Image, seed: int) -> Canvas:
    """Photograph a screen in a dim room: frame, scan lines, a reflection of the lamp."""
    c = Canvas(1280, 720, seed, (0.05, 0.055, 0.06))
    c.lay((0.11, 0.12, 0.13), step(760, 0, c.y) * (0.5 + 0.5 * c.noise(300, 3)))
    frame = step(3, -3, np.maximum(np.abs(c.x - 640) - 596, np.abs(c.y - 352) - 336))
    c.lay((0.20, 0.21, 0.22), frame)
    c.shine(0.12 * frame * step(30, 16, c.y) + 0.05 * frame * step(40, 44, c.x) * step(56, 50, c.x))
    face_ = np.asarray(screen.resize((1136, 616), Image.Resampling.LANCZOS), dtype=np.float32) / 255
    c.rgb[44:660, 72:1208] = face_ * 1.04 + 0.03
    lamp = np.exp(-((((c.x - 980) / 240) ** 2 + ((c.y - 120 + 0.25 * (c.x - 980)) / 70) ** 2) ** 1.0))
    inside = step(0, 2, np.minimum(568 - np.abs(c.x - 640), 308 - np.abs(c.y - 352)))
    c.shine(0.055 * lamp * inside, (0.9, 0.95, 1.0))
    c.dim(1 - 0.05 * inside * (np.sin(c.y * np.pi / 1.5) > 0))
    return c


def _on_photo(box: Box) -> Box:
    """Where a rectangle of the 1280 x 694 screen lies on the photograph."""
    kx, ky = 1136 / 1280, 616 / 694
    left, top = int(72 + box[0] * kx), int(44 + box[1] * ky)
    return left, top, int(np.ceil(box[2] * kx)) + 2, int(np.ceil(box[3] * ky)) + 2


def _label(c: Canvas) -> tuple[Image.Image, dict[str, Box]]:
    """Asset sticker on the frame, half in the dark."""
    image = c.image()
    return image, {
        "asset": write(image, (470, 668), "ASSET 0184-TT-62   MED PHYS EXT 555-0144", 17, (136, 140, 144))
    }


def _numbers(image: Image.Image, rows: list[tuple[int, str, str, str, tuple[int, int, int]]]) -> None:
    for top, name, value, unit, colour in rows:
        write(image, (950, top), name, 24, colour)
        write(image, (1040, top + 28), value, 78, colour, bold=True)
        write(image, (1196, top + 70), unit, 20, colour)


def monitor() -> Still:
    """Patient monitor at the low-volume alarm: fast rate, low pressure, small capnogram like a fin."""
    screen = Image.new("RGB", (1280, 694), (6, 8, 10))
    pen = ImageDraw.Draw(screen)
    strip = join(
        write(
            screen,
            (8, 4),
            "BREYLOCK-ANSTEAD, Morwenna   F 52   MRN 00990-7714",
            27,
            (240, 240, 240),
            back=(24, 52, 92),
        ),
        write(screen, (812, 4), "OR 3 TIDEHALL   14-10-25  09:44:35", 27, (240, 240, 240), back=(24, 52, 92)),
    )
    _trace(pen, (30, 70, 900, 110), _beats(11.5), GREEN)
    _trace(pen, (30, 200, 900, 100), _pulse(11.5, 0.42), CYAN)
    _trace(pen, (30, 390, 900, 150), _capnogram(5, 0.44, 0.95), YELLOW)
    for y in (186, 312, 566):
        pen.line((30, y, 1250, y), fill=(40, 46, 52), width=1)
    _numbers(
        screen,
        [
            (58, "HR", "112", "/min", GREEN),
            (186, "SpO2", "95", "%", CYAN),
            (316, "NIBP mean", "54", "mmHg", RED),
            (446, "etCO2", "3.4", "kPa", YELLOW),
        ],
    )
    write(screen, (30, 322), "NIBP 78/42 (54)   09:44   1 min", 26, WHITE)
    alarm = write(screen, (30, 596), "LOW MINUTE VOLUME", 40, (20, 10, 10), back=(255, 214, 70), bold=True)
    write(screen, (470, 600), "Ppeak 38 cmH2O   VTe 214 mL   RR 14", 32, WHITE)
    c = _bezel(screen, 31)
    c.blur(0.7)
    c.grain(0.016)
    vignette(c, 0.4, 0.8)
    image, strips = _label(c)
    strips["top"] = _on_photo(strip)
    keeps = {"alarm": _on_photo(alarm)}
    marks = {"capnogram": (330.0, 470.0), "pressure": (1020.0, 390.0)}
    return Still(image, strips, keeps, marks)


def _pressure(peak: float, plateau: float, breaths: float) -> Wave:
    def wave(t: np.ndarray) -> np.ndarray:
        p = (t * breaths) % 1
        rise = peak * np.clip(p / 0.20, 0, 1) ** 0.6
        hold = plateau + (peak - plateau) * np.exp(-np.clip(p - 0.20, 0, 1) / 0.02)
        fall = plateau * np.exp(-np.clip(p - 0.34, 0, 1) / 0.03)
        return 0.08 + np.where(p < 0.20, rise, np.where(p < 0.34, hold, fall))

    return wave


def _flow(breaths: float, slow: float) -> Wave:
    def wave(t: np.ndarray) -> np.ndarray:
        p = (t * breaths) % 1
        out = -0.34 * np.exp(-np.clip(p - 0.36, 0, 1) / (0.06 + 0.34 * slow))
        return 0.5 + np.where(p < 0.20, 0.30, np.where(p < 0.36, 0, out))

    return wave


def ventilator() -> Still:
    """Ventilator after the filter was changed: peak well above plateau, expiratory flow not back to zero."""
    screen = Image.new("RGB", (1280, 694), (14, 18, 26))
    pen = ImageDraw.Draw(screen)
    strip = join(
        write(
            screen, (8, 6), "OR 3   Breylock-Anstead M   00990-7714", 25, (210, 220, 235), back=(34, 42, 58)
        ),
        write(screen, (960, 6), "14/10/2025  09:55:50", 25, (210, 220, 235), back=(34, 42, 58)),
    )
    for top, name in ((60, "Paw  cmH2O"), (320, "Flow  L/min")):
        pen.rectangle((24, top, 930, top + 240), outline=(60, 72, 92))
        write(screen, (34, top + 4), name, 24, (170, 185, 205))
    _trace(pen, (40, 80, 870, 210), _pressure(0.76, 0.48, 4), YELLOW)
    _trace(pen, (40, 345, 870, 210), _flow(4, 0.95), GREEN)
    pen.line((40, 450, 910, 450), fill=(110, 120, 135), width=1)
    rows = [
        (54, "Ppeak", "29", "cmH2O", YELLOW),
        (184, "Pplat", "19", "cmH2O", YELLOW),
        (314, "VTe", "388", "mL", GREEN),
        (444, "etCO2", "2.3", "kPa", WHITE),
    ]
    _numbers(screen, rows)
    mode = write(screen, (30, 600), "VCV   set VT 450   RR 12   I:E 1:3   PEEP 5   FiO2 1.0", 32, WHITE)
    c = _bezel(screen, 32)
    c.blur(0.7)
    c.grain(0.016)
    vignette(c, 0.4, 0.8)
    image, strips = _label(c)
    strips["top"] = _on_photo(strip)
    marks = {"flow": (290.0, 495.0), "peak": (146.0, 160.0)}
    return Still(image, strips, {"settings": _on_photo(mode)}, marks)


def filter_() -> Still:
    """The breathing-system filter that came off, on a drape: pleats dark and wet, water in the housing."""
    c = Canvas(1280, 720, 33, (0.1, 0.3, 0.2))
    diffuse, _ = relief(c.noise(320, 5), 130)
    c.lay(np.array((0.16, 0.40, 0.32), dtype=np.float32) * (0.4 + 0.85 * diffuse)[..., None], 1.0)
    c.dim(1 - 0.05 * (np.sin(c.x * 1.1) * np.sin(c.y * 1.1) > 0))
    tube(
        c,
        [(-80, 450), (70, 420), (240, 388), (372, 366)],
        44,
        (0.74, 0.80, 0.84),
        gloss=0.5,
        tight=18,
        mottle=0.04,
    )
    for i in range(16):
        x, y = 84 + 18 * i, 417 - 3.4 * i
        c.dim(1 - 0.35 * step(5, 2, np.abs((c.x - x) + 0.19 * (c.y - y))) * step(42, 36, np.abs(c.y - y)))
    tube(c, [(360, 366), (470, 362)], 40, (0.84, 0.88, 0.90), gloss=0.6, tight=18, mottle=0.03)
    tube(
        c,
        [(850, 362), (985, 368), (1030, 369)],
        lambda t: 40 - 10 * t,
        (0.84, 0.88, 0.90),
        gloss=0.6,
        tight=18,
        mottle=0.03,
    )
    c.lay((0.10, 0.12, 0.12), step(2, -2, c.ellipse((1052, 370), 9, 22)))
    centre = (656.0, 362.0)
    c.dim(1 - 0.55 * step(40, -20, c.ellipse((672, 382), 226, 226)))
    house = c.ellipse(centre, 220, 220)
    c.lay((0.86, 0.90, 0.92), 0.93 * step(2, -2, house))
    u = c.x - centre[0]
    pleat = 0.5 + 0.5 * np.sin(u * 2 * np.pi / 21)
    media = step(2, -2, c.ellipse(centre, 176, 176))
    wet = step(0.40, 0.56, c.noise(150, 4) + 0.30 * step(-140, 140, c.y - centre[1]))
    dry_tone = np.array((0.95, 0.95, 0.92), dtype=np.float32) * (0.62 + 0.36 * pleat)[..., None]
    wet_tone = np.array((0.66, 0.64, 0.50), dtype=np.float32) * (0.46 + 0.42 * pleat)[..., None]
    c.lay(dry_tone, media)
    c.lay(wet_tone, media * wet * 0.92)
    c.lay((0.80, 0.74, 0.50), 0.5 * media * step(0.62, 0.74, c.noise(60, 4)) * wet)
    pool = media * step(486, 492, c.y + 4 * np.sin(c.x / 22))
    c.lay((0.70, 0.72, 0.62), 0.62 * pool)
    c.shine(0.5 * media * np.exp(-(((c.y - 489 + 4 * np.sin(c.x / 22)) / 2.2) ** 2)))
    droplets(c, media, 150, (1.6, 5.0), (0.80, 0.82, 0.78), 0.75)
    for ring, power in ((200, 0.5), (176, 0.35), (216, 0.4)):
        far = np.hypot(u, c.y - centre[1])
        side = 0.5 - 0.5 * ((u + (c.y - centre[1])) / (1.5 * ring))
        c.shine(power * np.exp(-(((far - ring) / 4.0) ** 2)) * np.clip(side, 0, 1))
        c.dim(1 - 0.30 * np.exp(-(((far - ring + 7) / 5.0) ** 2)))
    c.shine(0.30 * np.exp(-((c.ellipse((570, 250), 120, 44, -40) / 26) ** 2)) * step(0, -20, house) * 0.5)
    vignette(c, 0.5, 0.75)
    c.grain(0.012)
    image = c.image()
    lot = Image.new("RGB", (236, 34), (238, 238, 232))
    write(lot, (2, 1), "LOT 0990-F  SN 40127-3", 21, (60, 60, 64))
    shape = Image.new("L", lot.size, 255).rotate(6, Image.Resampling.BICUBIC, expand=True)
    image.paste(lot.rotate(6, Image.Resampling.BICUBIC, expand=True), (860, 500), shape)
    strips = {
        "lot": (858, 498, 242, 62),
        "name": write(
            image,
            (0, 0),
            "M Breylock-Anstead 00990-7714   filter, kept   14.10.2025 11:20",
            25,
            (20, 20, 20),
            back=(250, 240, 160),
        ),
        "vertical": write(image, (1250, 300), "taken by K. HAND ODP store", 19, (206, 222, 214), turn=90),
    }
    keeps = {"scale": _ruler(image)}
    marks = {"wet pleats": (656.0, 440.0), "water": (640.0, 500.0), "machine side": (200.0, 396.0)}
    return Still(image, strips, keeps, marks)


def _ruler(image: Image.Image) -> Box:
    """Paper ruler: the housing is 88 mm across, 440 pixels, so 5 pixels to the millimetre."""
    pen = ImageDraw.Draw(image)
    pen.rectangle((180, 640, 700, 696), fill=(240, 238, 228))
    for i in range(101):
        tall = 22 if i % 10 == 0 else 14 if i % 5 == 0 else 8
        pen.line((190 + i * 5, 640, 190 + i * 5, 640 + tall), fill=(30, 30, 30), width=1)
    for i in range(0, 11, 2):
        pen.text((184 + i * 50, 664), f"{i}", font=face(22), fill=(30, 30, 30))
    pen.text((626, 664), "cm", font=face(22), fill=(30, 30, 30))
    return 180, 640, 521, 57


def skin() -> Still:
    """Back with the drape lifted on the head side of the wound: flush with raised, pale, merging weals."""
    c = Canvas(1280, 720, 34, (0.85, 0.66, 0.56))
    swell = np.sin((c.x - 240) / 330) + 0.8 * np.sin(c.y / 230)
    diffuse, glance = relief(swell * 0.8 + 0.020 * c.noise(7, 2) + 0.05 * c.noise(90, 3), 22)
    tone = np.array((0.90, 0.70, 0.60), dtype=np.float32) * (0.45 + 0.70 * diffuse)[..., None]
    c.lay(tone, 1.0)
    c.lay((0.80, 0.50, 0.42), 0.30 * c.noise(140, 5))
    flush = step(0.30, 0.80, c.noise(300, 5) + 0.55 * step(1000, 250, c.x) - 0.15)
    c.lay((0.80, 0.30, 0.27), 0.55 * flush * (0.7 + 0.6 * c.noise(34, 4)))
    _weals(c)
    for _ in range(26):
        x, y = c.rng.uniform(80, 1240), c.rng.uniform(60, 700)
        c.lay(
            (0.42, 0.24, 0.17),
            0.7 * step(1, -1, c.ellipse((x, y), c.rng.uniform(1.5, 3.5), c.rng.uniform(1.5, 3))),
        )
    c.shine(0.08 * glance**18)
    _drapes(c)
    vignette(c, 0.45, 0.78)
    c.grain(0.013)
    image = c.image()
    strips = {
        "band": _wristband(image),
        "foot": write(
            image,
            (0, 692),
            "TIDEHALL OR3 phone 2 of 2  14/10/2025 10:00:12  Dr J. Lumbrecote",
            21,
            (225, 225, 225),
            back=(12, 14, 16),
        ),
    }
    keeps = {"orientation": _toward_head(image)}
    marks = {"weal": WEAL, "flush": (420.0, 330.0), "spared": (1010.0, 240.0)}
    return Still(image, strips, keeps, marks)


WEAL: Point = (356.0, 452.0)


def _weals(c: Canvas) -> None:
    """Weals as one uneven field, so that neighbours run together as they do in skin."""
    places = [(*WEAL, 92.0, 50.0, 18.0), (520.0, 300.0, 70.0, 40.0, -24.0), (250.0, 270.0, 58.0, 40.0, 40.0)]
    for _ in range(30):
        x, y, r = np.clip(c.rng.normal(380, 170), 60, 700), c.rng.uniform(140, 640), c.rng.uniform(14, 40)
        places.append((float(x), float(y), r, r * c.rng.uniform(0.5, 0.9), c.rng.uniform(-60, 60)))
    swelling = np.zeros_like(c.x)
    for x, y, a, b, turn in places:
        inside = np.clip(-c.ellipse((x, y), a, b, turn) / b, -1, 1)
        swelling = np.logaddexp(4 * swelling, 4 * inside + 2) / 4
    swelling = swelling - swelling.min() + 0.30 * (c.noise(46, 4) - 0.5)
    level = float(swelling[int(WEAL[1]), int(WEAL[0])]) * 0.42
    top = step(level - 0.10, level + 0.16, swelling)
    halo = step(level - 0.42, level - 0.02, swelling)
    c.lay((0.83, 0.27, 0.25), 0.50 * halo * (1 - top))
    c.lay((0.95, 0.73, 0.66), 0.66 * top * (0.75 + 0.35 * c.noise(60, 3)))
    diffuse, glance = relief(top + 0.25 * swelling, 4)
    c.dim(1 + (diffuse - LIT_FLAT) * 0.75 * step(0.02, 0.3, halo))
    c.shine(0.16 * top * step(0.965, 0.995, glance) * (0.3 + c.noise(14, 2)))


LIT_FLAT = 0.76
"""Diffuse light on a surface that faces the viewer."""


def _drapes(c: Canvas) -> None:
    folds, glance = relief(c.noise(220, 5), 100)
    blue = np.array((0.22, 0.42, 0.62), dtype=np.float32) * (0.4 + 0.85 * folds)[..., None]
    right = c.x - 1086 - 26 * np.sin(c.y / 90)
    top = 92 - c.y + 16 * np.sin(c.x / 120)
    for edge in (right, top):
        c.dim(1 - 0.45 * step(-30, 0, edge))
        c.lay(blue, step(-2, 2, edge))
        c.shine(0.25 * np.exp(-(((edge - 6) / 5) ** 2)) + 0.15 * step(0, 2, edge) * glance**24)
    film = step(-3, 3, np.minimum(np.minimum(c.x - 800 - 10 * np.sin(c.y / 60), -right), -top))
    c.lay((0.86, 0.62, 0.36), 0.30 * film)
    c.shine(0.10 * film * step(0.55, 0.85, c.noise(130, 2)))
    c.shine(0.18 * np.exp(-(((c.x - 801 - 10 * np.sin(c.y / 60)) / 1.6) ** 2)) * step(2, -2, top))
    spread = step(6, -4, c.ellipse((968, 420), 34, 176, 2))
    c.lay((0.93, 0.92, 0.88), 0.94 * spread)
    c.lay((0.66, 0.08, 0.08), spread * 0.8 * step(0.5, 0.66, c.noise(70, 4)))
    c.dim(1 - 0.35 * np.exp(-((c.ellipse((968, 420), 34, 176, 2) / 7) ** 2)))


def _wristband(image: Image.Image) -> Box:
    """A name band on the forearm support at the picture's top edge."""
    band = Image.new("RGB", (430, 58), (248, 248, 248))
    write(band, (8, 2), "BREYLOCK-ANSTEAD Morwenna", 22, (10, 10, 10), bold=True)
    write(band, (8, 29), "00990-7714   03 JUN 1973   F", 22, (10, 10, 10))
    shape = Image.new("L", band.size, 255).rotate(-5, Image.Resampling.BICUBIC, expand=True)
    image.paste(band.rotate(-5, Image.Resampling.BICUBIC, expand=True), (96, 4), shape)
    return 94, 2, 440, 98


def _toward_head(image: Image.Image) -> Box:
    pen = ImageDraw.Draw(image)
    box = write(image, (24, 632), "head", 24, (255, 255, 255), back=(20, 24, 28))
    x = box[0] + box[2] + 44
    pen.line((x - 36, 646, x, 646), fill=(255, 255, 255), width=3)
    pen.polygon([(x - 44, 646), (x - 32, 639), (x - 32, 653)], fill=(255, 255, 255))
    write(image, (24, 660), "patient prone", 22, (255, 255, 255), back=(20, 24, 28))
    return 24, 630, 150, 58


PICTURES = {"screen.jpg": monitor, "ventilator.jpg": ventilator, "part.jpg": filter_, "back.jpg": skin}
