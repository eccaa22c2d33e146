"""The refractometer: what its readings weigh, and that each density shares out all readings."""

import numpy as np
import pytest
from pytest import approx

from isogyre.instruments.refractometer import (
    DIFFERENCE_SD,
    LIMIT_FLOOR,
    MEAN_SD,
    MEAN_SD_HIGH,
    SEPARATION_SEEN,
)

# Blunders are spread over the 0.6 of a usual scale, so an integral over more of it exceeds 1.
SCALE = np.arange(1.30, 1.90, 0.001)
# A grid of a third of the reading error, and what of a blunder's share lies off the scale.
TOLERANCE = 0.03


@pytest.fixture(scope="module")
def density(sparse, one):
    """Return the density of a reading for each stratum's first stone."""

    def density(**entries):
        return np.exp(one(**entries).term(sparse).stones[:, 0])

    return density


@pytest.fixture(scope="module")
def strata(sparse):
    """Return one listed stratum of a material."""

    def strata(material):
        return int(sparse.stratum[np.flatnonzero(sparse.rows_of("material", material))[0]])

    return strata


def on_scale(sparse, margin=0.08):
    """Return the strata whose indices leave a margin at both ends of the scale."""
    low, high = sparse.stones.n_alpha[:, 0], sparse.stones.n_gamma[:, 0]
    return (low > SCALE[0] + margin) & (high < SCALE[-1] - margin)


def test_the_density_of_a_spot_shares_out_all_spots(sparse, density):
    total = sum(density(ri_spot=f"{n:.3f}") for n in SCALE) * 0.001
    assert total[on_scale(sparse)] == approx(1, abs=TOLERANCE)


def test_the_density_of_one_edge_of_two_shares_out_all_edges(sparse, density):
    total = sum(density(ri_low=f"{n:.3f}") for n in SCALE) * 0.001
    assert total[on_scale(sparse)] == approx(1, abs=TOLERANCE)


def test_the_density_of_a_birefringence_shares_out_all_of_them(sparse, density):
    # Below zero nothing can be read: a stone whose own is small loses that half of its error.
    full = sparse.stones.birefringence[:, 0]
    widths = np.arange(0.0, 0.40, 0.0005)
    total = sum(density(birefringence=float(w)) for w in widths) * 0.0005
    assert total[(full > 0.006) & (full < 0.3)] == approx(1, abs=0.05)


def test_pairs_and_single_edges_share_out_all_readings_between_them(sparse, density, strata):
    """Two edges or one, a facet shows something: the two densities add up to one."""
    kinds = ["corundum", "quartz", "olivine", "topaz", "spinel", "grossular", "fluorite"]
    held = [strata(kind) for kind in kinds]
    single = sum(density(ri_low=f"{n:.3f}", ri_high=f"{n:.3f}") for n in SCALE) * 0.001
    # Steps of the size of the reading error: a sum of Gaussians is exact to a thousandth there.
    widths = np.arange(0.001, 0.081, 0.002)
    pairs = np.zeros(len(single))
    for mean in np.arange(1.40, 1.80, 0.0025):
        for width in widths:
            low, high = f"{mean - width / 2:.4f}", f"{mean + width / 2:.4f}"
            pairs += density(ri_low=low, ri_high=high) * 0.0025 * 0.002
    # Widths below half a step of the scale show as one edge; a wide blunder leaves the grid.
    assert (pairs + single)[held] == approx(1, abs=0.06)


@pytest.mark.parametrize(
    ("material", "sd"), [("quartz", MEAN_SD), ("corundum", MEAN_SD_HIGH)], ids=["1.55", "1.77"]
)
def test_the_mean_of_a_pair_errs_as_stated(sparse, density, strata, material, sd):
    held = strata(material)
    mean, full = sparse.stones.n_mean[held, 0], sparse.stones.birefringence[held, 0]
    offsets = np.arange(-0.004, 0.00401, 0.0005)
    at = [
        density(
            ri_low=f"{mean + o - full / 2:.5f}",
            ri_high=f"{mean + o + full / 2:.5f}",
        )[held]
        for o in offsets
    ]
    # The curvature at the peak, from a parabola through the logarithm.
    curvature = -2 * np.polyfit(offsets, np.log(at), 2)[0]
    # Wider components of the mixture flatten the peak by some ten per cent.
    assert curvature**-0.5 == approx(sd, rel=0.2)


def test_trap_02_the_difference_of_a_pair_errs_less_than_two_free_edges(sparse, density, strata):
    held = strata("olivine")
    mean, full = sparse.stones.n_mean[held, 0], sparse.stones.birefringence[held, 0]
    errors = np.arange(-0.004, 0.00401, 0.0005)
    at = [
        density(
            ri_low=f"{mean - (full + e) / 2:.5f}",
            ri_high=f"{mean + (full + e) / 2:.5f}",
        )[held]
        for e in errors
    ]
    curvature = -2 * np.polyfit(errors, np.log(at), 2)[0]
    assert curvature**-0.5 == approx(DIFFERENCE_SD, rel=0.15)
    assert curvature**-0.5 < np.sqrt(2) * MEAN_SD


def test_a_small_separation_is_likelier_from_one_position_than_from_a_turn(
    population, log_rows, rows_of
):
    """The ordinary edge of tourmaline stands still, the other lies anywhere up to 0.018 below."""
    tourmaline = rows_of(material="tourmaline")
    pair = {"ri_low": "1.634", "ri_high": "1.640"}
    full = log_rows(**pair, ri_turn="full")[tourmaline]
    single = log_rows(**pair, ri_turn="single")[tourmaline]
    assert (single > full).all()


def test_a_whole_separation_is_likelier_from_a_turn_than_from_one_position(log_rows, rows_of):
    tourmaline = rows_of(material="tourmaline")
    pair = {"ri_low": "1.622", "ri_high": "1.640"}
    full = log_rows(**pair, ri_turn="full")[tourmaline]
    single = log_rows(**pair, ri_turn="single")[tourmaline]
    assert (full > single).all()


def test_a_pair_at_one_position_may_lie_below_a_birefringence_read_elsewhere(read):
    found = read(ri_low=1.622, ri_high=1.628, ri_turn="single", birefringence=0.018)
    assert not found.troubles
    assert {r.field for r in found.readings} == {"ri_low", "birefringence"}


def test_a_pair_at_one_position_may_not_exceed_the_birefringence(read):
    found = read(ri_low=1.622, ri_high=1.640, ri_turn="single", birefringence=0.006)
    assert [t.field for t in found.troubles] == ["birefringence"]


def test_a_pair_once_read_makes_its_own_birefringence_redundant(read):
    fields = [r.field for r in read(ri_low=1.622, ri_high=1.640, birefringence=0.018).readings]
    assert fields == ["ri_low"]


@pytest.mark.parametrize(
    "beside",
    [{"ri_low": 1.622}, {"ri_high": 1.640}, {"ri_spot": 1.63}],
    ids=["low", "high", "spot"],
)
def test_a_birefringence_counts_beside_a_single_figure(read, beside):
    found = read(**beside, birefringence=0.018)
    assert {r.field for r in found.readings} == {*beside, "birefringence"}


def test_a_reading_stands_under_the_field_it_was_typed_in(one):
    assert one(ri_high=1.55).field == "ri_high"
    assert one(ri_text="about 1.55").field == "ri_text"


def test_an_edge_beyond_the_limit_needs_a_stone_of_high_index(log_rows, rows_of):
    log = log_rows(ri_text="over 1.81")
    zircon, quartz = log[rows_of(species="diamond")], log[rows_of(species="quartz")]
    assert zircon == approx(0, abs=0.01)
    assert quartz == approx(np.log(LIMIT_FLOOR))


@pytest.mark.parametrize(
    "said",
    ["over the limit", "OTL", "beyond 1.81", "above the scale", "negative reading", "> 1.80",
     "no edge on the scale"],
)  # fmt: skip
def test_many_words_say_that_the_edge_lies_beyond_the_limit(log_rows, rows_of, said):
    log = log_rows(ri_text=said)
    assert log[rows_of(species="diamond")].min() > log[rows_of(species="quartz")].max() + 4


@pytest.mark.parametrize("said", ["not over the limit", "below the limit", "overall dull"])
def test_a_word_that_only_resembles_is_not_taken_for_beyond(read, said):
    assert not read(ri_text=said).readings


def test_the_end_of_the_scale_beside_a_reading_on_it_is_no_second_reading(read):
    """The limit belongs to bottle and prism; with a reading on the scale it says nothing."""
    for on_scale_reading in ({"ri_spot": 1.54}, {"ri_low": 1.544, "ri_high": 1.553}):
        (reading,) = read(**on_scale_reading, ri_limit=1.80).readings
        assert "beyond" not in reading.shown


def test_one_edge_well_below_the_limit_does_not_throw_the_other_beyond_it(log_rows, rows_of):
    """An edge at 1.55 whose partner was not noted: no gem's other edge lies beyond 1.80."""
    log = log_rows(ri_low=1.549, ri_limit=1.80)
    assert log[rows_of(species="quartz")].max() > log[rows_of(species="diamond")].max() + 3


def test_a_missing_upper_edge_near_the_limit_is_an_observation(log_rows, rows_of):
    log = log_rows(ri_low=1.78, ri_limit=1.80)
    painite_like = log[rows_of(species="painite")].max()  # 1.787 to 1.816
    corundum = log[rows_of(species="corundum")].max()  # 1.762 to 1.770
    assert painite_like > corundum


def test_one_edge_speaks_for_a_separation_too_small_to_see(population, one):
    log = one(ri_low=1.718, ri_high=1.718).term(population).stones
    near = np.abs(population.stones.n_mean - 1.718) < 0.002
    width = population.stones.birefringence
    small, large = near & (width < SEPARATION_SEEN / 3), near & (width > 3 * SEPARATION_SEEN)
    assert log[small].min() > log[large].max()


def test_trap_03_a_spread_over_several_stones_is_never_a_birefringence(read, log_rows, rows_of):
    for kind in ("range across samples", "spread over several stones", "interval, 5 stones"):
        found = read(ri_low=1.40, ri_high=1.46, ri_kind=kind)
        (ignored,) = found.ignored
        assert ignored.field == "ri_kind"
        assert "several" in ignored.reason
        assert all("edge" in r.shown for r in found.readings)
    spread = log_rows(ri_low=1.40, ri_high=1.46, ri_kind="range across samples")
    pair = log_rows(ri_low=1.40, ri_high=1.46)
    opal = rows_of(species="opal")
    unread = np.median(spread)
    assert spread[opal].max() > unread
    assert pair[opal].max() < spread[opal].max()


def test_a_birefringence_of_one_stone_counts_beside_a_spread_over_several(read):
    found = read(ri_low=1.62, ri_high=1.65, ri_kind="range across samples", birefringence=0.018)
    assert {r.field for r in found.readings} == {"ri_low", "birefringence"}


def test_trap_04_a_spot_on_a_strongly_doubled_stone_lies_anywhere_between(sparse, density):
    """A spot is flat over the width of the stone and falls off beyond it."""
    strong = np.flatnonzero((sparse.stones.birefringence[:, 0] > 0.12) & on_scale(sparse, 0.02))
    assert len(strong)
    for held in strong:
        low, high = sparse.stones.n_alpha[held, 0], sparse.stones.n_gamma[held, 0]
        middle = (low + high) / 2
        at = {n: density(ri_spot=f"{n:.2f}")[held] for n in (low + 0.01, middle, high - 0.01)}
        beyond = density(ri_spot=f"{high + 0.12:.2f}")[held]
        assert min(at.values()) > max(at.values()) / 6
        assert beyond < min(at.values()) / 2


def test_trap_04_two_decimals_of_a_spot_are_worth_less_than_three(population, one):
    coarse, fine = (one(ri_spot=t).term(population).stones for t in ("1.54", "1.540"))
    single = population.stones.birefringence < 0.002
    right = single & (np.abs(population.stones.n_mean - 1.54) < 0.0005)
    wrong = single & (np.abs(population.stones.n_mean - 1.555) < 0.001)
    assert fine[right].mean() - fine[wrong].mean() > coarse[right].mean() - coarse[wrong].mean()
    # Three standard deviations off, a spot still leaves a stone within reach.
    assert coarse[right].mean() - coarse[wrong].mean() < np.log(100)


def test_trap_05_aggregates_that_show_a_wide_pair_are_not_sunk(log_rows, rows_of):
    """Carbonate aggregates of pearl and coral show two far edges at times."""
    log = log_rows(ri_low=1.53, ri_high=1.68)
    pearl = log[rows_of(species="pearl")].max()
    tourmaline = log[rows_of(species="tourmaline")].max()
    assert pearl > tourmaline


def test_trap_05_a_small_pair_on_an_aggregate_costs_little(log_rows, rows_of):
    chalcedony = rows_of(material="chalcedony")
    pair, single = (
        log_rows(ri_low="1.535", ri_high="1.539")[chalcedony].max(),
        log_rows(ri_low="1.537", ri_high="1.537")[chalcedony].max(),
    )
    quartz = rows_of(material="quartz")
    lead = log_rows(ri_low="1.535", ri_high="1.539")[quartz].max() - pair
    assert lead < np.log(30)
    assert single > log_rows(ri_low="1.537", ri_high="1.537")[quartz].max()


def test_trap_06_over_the_limit_leaves_a_low_material_its_small_floor(log_rows, rows_of):
    quartz = np.exp(log_rows(ri_text="over the limit")[rows_of(species="quartz")])
    assert ((quartz >= 0.002) & (quartz <= 0.003)).all()
