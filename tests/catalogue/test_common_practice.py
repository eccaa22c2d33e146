"""What everybody in the trade knows, asked of the catalogue.

Unless a source stands beside it, each fact here is common practice. The tests ask for the shape of
a fact (which is greater, what lies inside what), not for the catalogue's own figures.
"""

import pytest
from pytest import approx

from isogyre.catalogue.model import STEP_PROBABILITY
from tests.catalogue.evidence import chance, population, rows_of
from tests.catalogue.stones import catalogue, followed, kinds, our_range

# Figures printed to three decimals or two stand for what rounds to them.
INDEX_ROUNDING = 0.005
RUBY_AND_SAPPHIRE = "corundum/natural/ruby+blue sapphire"


def material(name):
    return catalogue().materials[name]


# ---- corundum --------------------------------------------------------------------------------


def test_corundum_reads_1_76_to_1_77_with_008_to_010_and_is_uniaxial_negative():
    corundum = material("corundum")
    assert our_range("corundum", "n") == approx((1.76, 1.77), abs=INDEX_ROUNDING)
    low, high = our_range("corundum", "birefringence")
    assert 0.0075 <= low <= high <= 0.0105
    assert (corundum.optic.character, corundum.optic.sign) == ("uniaxial", "-")
    assert our_range("corundum", "hardness") == (9, 9)


def test_needles_are_at_home_in_natural_corundum():
    natural = chance("silk", rows_of(f"{RUBY_AND_SAPPHIRE}/-"))
    grown = chance("silk", rows_of("corundum/flame-fusion/ruby+blue sapphire/-"))
    assert natural > 0.3 > 10 * grown


def odds_factor(feature, treatment):
    """Return by how much seeing a feature multiplies the odds of a treatment against none."""
    here = chance(feature, rows_of(f"{RUBY_AND_SAPPHIRE}/{treatment}"))
    return here / chance(feature, rows_of(f"{RUBY_AND_SAPPHIRE}/-"))


def test_intact_silk_speaks_against_strong_heat():
    """AIGS2025, LOT-SILK: read as no high-temperature heating."""
    assert odds_factor("silk", "heat") < 1 / 3
    assert odds_factor("silk", "heat with residue") < 1 / 2
    assert odds_factor("broken silk", "heat") > 3


@pytest.mark.parametrize(
    "treatment", ["gentle heat", "oil", "lead-glass filling", "cobalt-glass filling"]
)
def test_intact_silk_says_nothing_against_gentle_heat_oil_or_filling(treatment):
    """APS on gentle heat; AGL-CO on cobalt glass; README of the evidence tables on both glasses."""
    look = "ruby" if treatment == "lead-glass filling" else "blue sapphire"
    here = chance("silk", rows_of(f"corundum/natural/{look}/{treatment}"))
    untreated = chance("silk", rows_of(f"corundum/natural/{look}/-"))
    assert here == approx(untreated, rel=0.1)


def test_grown_stars_carry_fine_silk_through_the_body_and_diffused_ones_under_the_skin():
    """APS: star synthetics also carry fine rutile; GG2015DDS: thin layers under dome and base."""
    stars = "star ruby+star sapphire"
    grown, diffused, natural = (
        rows_of(f"corundum/{kind}")
        for kind in (
            f"flame-fusion/{stars}/-",
            f"natural/{stars}/surface diffusion",
            f"natural/{stars}/-",
        )
    )
    through, skin, coarse = "fine silk through the body", "silk near the surface", "silk"
    assert chance(through, grown) > 10 * max(chance(through, natural), chance(through, diffused))
    assert chance(skin, diffused) > 10 * max(chance(skin, natural), chance(skin, grown))
    assert chance(coarse, natural) > 3 * max(chance(coarse, grown), chance(coarse, diffused))


def test_the_curved_lines_of_the_flame_are_never_natural():
    """ORC-RUBY, HINTS."""
    grown = chance("curved striae", rows_of("corundum/flame-fusion/ruby/-"))
    assert grown > 30 * chance("curved striae", rows_of("corundum/natural/ruby/-"))


def test_ruby_glows_red_and_is_red_through_the_filter():
    """AMEZ, WIKI for the glow."""
    (ruby,) = (kind.look for kind in kinds("ruby"))
    glow = {one.look for one in ruby.long_wave if STEP_PROBABILITY[one.seen] >= 0.6}
    assert glow <= {"strong red", "moderate red"} and glow
    assert STEP_PROBABILITY[ruby.filter.red] > 0.9


# ---- optics of the common gems ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "low", "high", "character", "sign"),
    [
        ("quartz", 1.544, 1.553, "uniaxial", "+"),
        ("spinel", 1.718, 1.718, "isotropic", ""),
        ("diamond", 2.417, 2.417, "isotropic", ""),
        ("chrysoberyl", 1.746, 1.755, "biaxial", "+"),
        ("calcite", 1.486, 1.658, "uniaxial", "-"),
        ("fluorite", 1.434, 1.434, "isotropic", ""),
        ("moissanite", 2.648, 2.691, "uniaxial", "+"),
        ("cubic zirconia", 2.15, 2.18, "isotropic", ""),
        ("tanzanite", 1.691, 1.700, "biaxial", "+"),
        ("peridot", 1.654, 1.690, "biaxial", "+-"),
        ("topaz", 1.609, 1.637, "biaxial", "+"),
        ("tourmaline", 1.624, 1.644, "uniaxial", "-"),
        ("emerald", 1.577, 1.583, "uniaxial", "-"),
        ("zircon high", 1.925, 1.984, "uniaxial", "+"),
    ],
)
def test_a_common_gem_has_its_textbook_figures(name, low, high, character, sign):
    ours = our_range(name, "n")
    assert ours[0] - 1e-9 <= low <= high <= ours[1] + 1e-9
    optic = kinds(name)[0].material.optic
    assert (optic.character, optic.sign) == (character, sign)


def test_topaz_and_tourmaline_share_indices_and_part_by_birefringence():
    assert our_range("topaz", "n")[1] > our_range("tourmaline", "n")[0]
    assert our_range("topaz", "birefringence")[1] < our_range("tourmaline", "birefringence")[0]


def test_synthetic_spinel_of_the_flame_reads_higher_and_weighs_more_than_natural_spinel():
    """DWIKI, GQLD, WADE: 1.728 against 1.718, excess alumina."""
    grown, natural = "synthetic spinel (flame-fusion)", "spinel (red)"
    assert our_range(grown, "n")[0] > our_range(natural, "n")[1]
    assert sum(our_range(grown, "sg")) > sum(our_range(natural, "sg"))


def test_hardness_follows_the_scale():
    scale = ["diamond", "corundum", "chrysoberyl", "topaz", "quartz", "orthoclase", "apatite",
             "fluorite", "calcite", "gypsum"]  # fmt: skip
    hardness = [sum(our_range(name, "hardness")) / 2 for name in scale]
    assert hardness == sorted(hardness, reverse=True)
    assert [round(hardness[scale.index(name)]) for name in ("diamond", "topaz", "quartz")] == [
        10,
        8,
        7,
    ]


def test_the_jades_part_by_spot_and_density():
    """JADEO, HUDEC: 1.66 and 3.34 against 1.61 and 2.95."""
    assert our_range("jadeite (A)", "n")[0] > our_range("nephrite", "n")[1]
    assert our_range("jadeite (A)", "sg")[0] > our_range("nephrite", "sg")[1]


def test_amber_floats_on_saturated_salt_water_and_most_plastics_sink():
    salt_water = 1.12
    assert our_range("amber", "sg")[1] <= salt_water
    sinking = ["plastic, acrylic", "plastic, phenolic", "plastic, casein", "plastic, celluloid"]
    assert all(our_range(name, "sg")[0] > salt_water for name in sinking)
    # Polystyrene is the known exception: salt water does not settle it.
    assert our_range("polystyrene", "sg")[0] <= salt_water


# ---- diamond and what is set in its place ----------------------------------------------------


def test_a_heat_probe_takes_moissanite_for_diamond_and_nothing_else():
    """JG2022MOI, GIA-MOI: doubling and conduction part them."""
    stones = catalogue().materials.values()
    # A crown of diamond on another stone is diamond to the probe.
    hot = {m.name for m in stones if m.thermal == "diamond-like" and m.kind != "assembled"}
    assert hot == {"diamond", "moissanite"}
    double = "doubling of back facets"
    assert chance(double, rows_of("moissanite/vapour/colourless moissanite/-")) > 0.5
    assert chance(double, rows_of("diamond/natural//-")) < 0.05


def test_diamond_is_the_lightest_of_its_doubles_but_for_moissanite_and_glass():
    heavier = ["cubic zirconia", "YAG", "GGG", "strontium titanate", "zircon high"]
    assert all(our_range(name, "sg")[0] > our_range("diamond", "sg")[1] for name in heavier)
    assert our_range("moissanite", "sg")[1] < our_range("diamond", "sg")[0]


# ---- glass, cobalt, layers -------------------------------------------------------------------


@pytest.mark.parametrize("gem", ["corundum/natural", "quartz/natural", "tourmaline/natural"])
def test_bubbles_and_swirls_speak_for_glass(gem):
    glass = rows_of("glass, soda-lime///-;glass, lead, low///-")
    for feature in ("gas bubbles", "glass swirls"):
        assert chance(feature, glass) > 10 * chance(feature, rows_of(f"{gem}//-"))


@pytest.mark.parametrize(
    "name", ["cobalt glass", "synthetic spinel (blue, flame-fusion)", "blue spinel (cobalt)"]
)
def test_cobalt_blue_is_red_through_the_filter_and_sapphire_is_not(name):
    """FRG, GTR, HARRIS."""
    reds = [STEP_PROBABILITY[kind.look.filter.red] for kind in kinds(name)]
    (sapphire,) = kinds("blue sapphire")
    assert max(reds) >= 0.6 > 0.1 > STEP_PROBABILITY[sapphire.look.filter.red]


def test_a_join_speaks_for_an_assembled_stone():
    """BRIT-DBL, PJJ-GTD."""
    assembled = [m.name for m in catalogue().materials.values() if m.kind == "assembled"]
    doublets = [name for name in assembled if "doublet" in name or "triplet" in name]
    joined = rows_of(";".join(f"{name}///" for name in doublets))
    single = rows_of("corundum/natural//-;quartz/natural//-;almandine///-;opal/natural//-")
    assert chance("join plane", joined) > 20 * chance("join plane", single)


def test_flame_fusion_spinel_shows_strain_between_crossed_polars_more_than_garnet():
    """GSG-SPI."""
    column = 3  # single, double, aggregate, anomalous
    table = population().tables.polariscope
    grown = table[rows_of("spinel/flame-fusion//-"), column].min()
    assert grown > table[rows_of("spinel/natural//-"), column].max()
    assert grown > table[rows_of("almandine///-"), column].max()


# ---- colour change, treatments, care ---------------------------------------------------------


@pytest.mark.parametrize(
    "name", ["alexandrite", "synthetic alexandrite", "pyrope-spessartine (colour change)"]
)
def test_a_stone_that_changes_colour_has_other_hues_by_incandescent_light(name):
    for kind in kinds(name):
        day, lamp = set(kind.look.colours), set(kind.look.incandescent)
        assert lamp and lamp != day
        assert lamp & {"red", "purple", "pink"}
        assert "colour change" in {seen.name for seen in kind.look.phenomena}


@pytest.mark.parametrize(
    ("selector", "treatment", "least"),
    [
        # SILV, MJS-TAN, SWI-TOP, EM-JOH, GEMW17: nearly all, or usual.
        ("beryl/natural/aquamarine", "heat", 0.5),
        ("zoisite/natural/tanzanite", "heat", 0.8),
        ("topaz/natural/blue topaz", "irradiation", 0.8),
        ("beryl/natural/emerald", "oil+resin+fracture filling", 0.5),
        ("corundum/natural/ruby+blue sapphire", "heat+gentle heat+heat with residue", 0.5),
        ("zircon high/natural/blue zircon", "heat", 0.8),
    ],
)
def test_most_stones_of_a_kind_are_treated(selector, treatment, least):
    everything = population()
    treated = everything.prior[rows_of(f"{selector}/{treatment}")].sum()
    assert treated / everything.prior[rows_of(f"{selector}/")].sum() >= least


@pytest.mark.parametrize("name", ["garnet (all)", "spinel (red)", "peridot"])
def test_garnet_spinel_and_peridot_are_mostly_untreated(name):
    everything = population()
    for kind in kinds(name):
        stone = f"{kind.material.name}/{kind.body.growth}/{kind.look.variety}"
        untreated = everything.prior[rows_of(f"{stone}/-")].sum()
        assert untreated / everything.prior[rows_of(f"{stone}/")].sum() > 0.5, stone


@pytest.mark.parametrize(
    "name", ["pearl", "amber", "coral", "opal", "turquoise", "lapis lazuli", "malachite", "jet"]
)
def test_organic_and_porous_stones_are_kept_from_torch_pickle_and_steam(name):
    for kind in kinds(name):
        care = kind.material.care
        assert {care.torch, care.pickle} == {"no"}
        assert care.ultrasonic != "yes" and care.steam != "yes"


def test_what_cleaves_perfectly_or_is_organic_never_meets_the_torch():
    """HAMID, GAN-HEAT; diamond alone is asked about with caution."""
    for one in catalogue().materials.values():
        said = one.durability.cleavage
        cleaves = said is not None and said.text.startswith("perfect")
        if (cleaves or one.kind == "organic") and one.name != "diamond":
            assert one.care.torch == "no", one.name


def test_trade_names_lead_to_the_material():
    for trade_name, name in {
        "peridot": "olivine", "iolite": "cordierite", "sphene": "titanite",
        "idocrase": "vesuvianite", "sapphire": "corundum", "emerald": "beryl",
    }.items():  # fmt: skip
        assert trade_name in material(name).also_called


def test_every_gem_of_weight_has_an_index_and_a_density():
    """Opaque stones without a reading apart: what cannot be measured cannot be told."""
    lacking = [
        one.name
        for one in catalogue().materials.values()
        if one.optic.character != "opaque"
        and not (our_range(one.name, "n") and followed(one.constants.sg))
    ]
    assert lacking == []
