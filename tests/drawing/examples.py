"""One example and more of every figure; the tests draw them all, and so does the gallery."""

from isogyre.drawing.colour_filter import FilterView, draw_colour_filter
from isogyre.drawing.dichroscope import (
    DichroscopeView,
    Pair,
    Window,
    along_axes,
    draw_dichroscope,
)
from isogyre.drawing.glow import Glow, GlowView, draw_glow
from isogyre.drawing.outlines import CUTS
from isogyre.drawing.polariscope import ANSWERS, PolariscopeView, draw_polariscope
from isogyre.drawing.refractometer import Edge, RefractometerScale, draw_refractometer
from isogyre.drawing.spectrum import Band, SpectrumView, draw_spectrum
from isogyre.drawing.stone_plan import StonePlan, draw_stone_plan

RUBY = (
    Band(694.2, 1.2, 0.7, is_bright=True),
    Band(692.8, 1.2, 0.7, is_bright=True),
    Band(668, 2, 0.5),
    Band(659.2, 2, 0.5),
    Band(550, 70, 0.85),
    Band(476.5, 1.5, 0.7),
    Band(475, 1.5, 0.7),
    Band(468.5, 1.5, 0.7),
    Band(405, 50, 0.9),
)
IRON = (Band(450, 7, 0.9), Band(460, 4, 0.6), Band(470.5, 4, 0.45))
HUES = ("pink", "blue", "green", "red", "colourless", "orange", "violet", "yellow")

EXAMPLES = {
    "two edges": (
        RefractometerScale(Edge(1.762, 0.001), Edge(1.770, 0.001), scale_from=1.74, scale_to=1.80),
        draw_refractometer,
    ),
    "two edges, whole scale, handles": (
        RefractometerScale(Edge(1.654, 0.002), Edge(1.690, 0.002), limit=1.79, has_handles=True),
        draw_refractometer,
    ),
    "one edge": (RefractometerScale(Edge(1.718, 0.003)), draw_refractometer),
    "no edge": (RefractometerScale(), draw_refractometer),
    "upper edge beyond": (
        RefractometerScale(Edge(1.777, 0.002), Edge(1.836), scale_from=1.70),
        draw_refractometer,
    ),
    "both beyond": (
        RefractometerScale(Edge(1.92), Edge(1.98), limit=1.81, scale_from=1.30),
        draw_refractometer,
    ),
    "spot": (RefractometerScale(spot=Edge(1.66, 0.01)), draw_refractometer),
    "spot beyond": (RefractometerScale(spot=Edge(2.2, 0.01)), draw_refractometer),
    **{
        f"polariscope, {answer}": (PolariscopeView(answer, hue), draw_polariscope)
        for answer, hue in zip(ANSWERS, ("red", "blue", "green", "orange"), strict=True)
    },
    "ruby, daylight": (
        SpectrumView(RUBY, (692.8, 694.2, 668, 659, 550, 476, 475, 468), "daylight"),
        draw_spectrum,
    ),
    "iron, white-led, grating": (
        SpectrumView(IRON, (450,), "white-led", "grating", red_left=False),
        draw_spectrum,
    ),
    "incandescent": (SpectrumView(lamp="incandescent"), draw_spectrum),
    "many lines": (
        SpectrumView(
            tuple(Band(nm, 1.5, 0.8) for nm in range(410, 700, 14)),
            tuple(range(410, 700, 14)),
        ),
        draw_spectrum,
    ),
    "dichroscope, one": (
        DichroscopeView((Pair(Window("blue", 0.6), Window("#879b3c", 0.5, "yellowish green")),)),
        draw_dichroscope,
    ),
    "dichroscope, axes": (
        along_axes(
            Window("violet", 0.5), Window("blue", 0.65, "deep blue"), Window("yellow", 0.2, "straw")
        ),
        draw_dichroscope,
    ),
    "glow": (
        GlowView(
            (
                Glow(365, "strong", "red"),
                Glow(254, "weak", "blue", is_patchy=True),
                Glow(395, "moderate", "red"),
            )
        ),
        draw_glow,
    ),
    "inert": (GlowView((Glow(365), Glow(254, "very weak", "green")), "round", 1.0), draw_glow),
    "filter": (FilterView("green", "red"), draw_colour_filter),
    "filter, dull": (FilterView("blue", "dull", cut="cushion"), draw_colour_filter),
    **{
        f"plan, {cut}": (
            StonePlan(
                cut,
                8.0 if cut not in ("round", "bead", "round cabochon", "square") else 6.5,
                6.5 if cut not in ("marquise",) else 4.2,
                HUES[i % len(HUES)],
                seed=i,
                units_per_mm=16,
            ),
            draw_stone_plan,
        )
        for i, cut in enumerate(CUTS)
    },
    "plan, star": (
        StonePlan(
            "oval cabochon", 9.0, 7.8, "blue", 0.4, phenomenon="six-rayed star", units_per_mm=16
        ),
        draw_stone_plan,
    ),
    "plan, cat's eye": (
        StonePlan(
            "round cabochon", 7.4, 7.4, "yellow", 0.6, phenomenon="chatoyancy", units_per_mm=16
        ),
        draw_stone_plan,
    ),
    "plan, measured": (
        StonePlan("cushion", 6.1, 5.4, "blue-green", has_measures=True, units_per_mm=25),
        draw_stone_plan,
    ),
    "plan, true size": (
        StonePlan("pear", 9.0, 6.0, "pink", has_ruler=True, true_size=True, units_per_mm=20),
        draw_stone_plan,
    ),
}
