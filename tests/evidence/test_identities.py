"""What must hold of every standing, whatever the stone."""

import numpy as np
import pytest
from pytest import approx

from isogyre.evidence import SETTINGS, stand
from isogyre.evidence.posterior import Evidence
from isogyre.evidence.prior import log_prior, setting_of
from isogyre.evidence.standing import _log10_bayes_factor
from isogyre.instruments import Reading, Term
from isogyre.instruments.term import choice

BENCH = SETTINGS["bench"]
# Sums of three thousand shares in double precision.
ROUNDING = 1e-9
KINDS = ("corundum", "quartz", "topaz", "spinel", "diamond")
LONG = {
    "ri_low": "1.762", "ri_high": "1.770", "sg": "4.00", "polariscope": "DR",
    "optic_character": "uniaxial", "optic_sign": "-", "colour": "red", "uv_lw": "strong red",
    "uv_sw": "weak red", "chelsea": "red", "pleochroism": "strong: red / orange",
    "spectrum_lines_nm": [693, 476, 468], "spectrum_text": "chromium lines",
    "magnification": ["curved striae", "gas bubbles", "unmelted powder"], "not_seen": ["silk"],
    "weight_air_ct": 2.0, "weight_liquid_ct": 1.5, "hardness": 9, "transparency": "transparent",
    "form": "faceted", "heavy_liquid": {"sg": 3.32, "result": "sinks"},
}  # fmt: skip


def fake(cause, dependence, rows):
    """Return a reading that says ``rows`` of the hypotheses."""
    return Reading("a field", "a word", lambda population: Term(rows=rows), cause, dependence)


@pytest.fixture(scope="module")
def hint(population):
    """Return log likelihoods that speak mildly for corundum."""
    return np.where(population.rows_of("species", "corundum"), np.log(4.0), 0.0)


def standings_of(stands, everyday):
    return [stands(), *(stands(**everyday[kind]) for kind in KINDS), stands(**LONG)]


def test_probabilities_sum_to_one_with_unlisted_among_them(stands, everyday):
    for standing in standings_of(stands, everyday):
        for shares in (standing.species, standing.origin, standing.treated):
            assert sum(shares.values()) == approx(1, abs=ROUNDING)
            assert min(shares.values()) >= 0
        assert standing.posterior.sum() == approx(1, abs=ROUNDING)
        assert standing.stone_weight.sum() == approx(1, abs=ROUNDING)
        assert standing.species["unlisted"] == approx(standing.origin["unlisted"], abs=ROUNDING)


def test_names_come_in_the_order_of_their_probability(stands, everyday):
    for standing in standings_of(stands, everyday):
        shares = list(standing.species.values())
        assert shares == sorted(shares, reverse=True)
        assert [standing.leader, standing.runner_up] == list(standing.species)[:2]


def test_without_readings_the_posterior_is_the_prior(population, stands):
    standing = stands()
    assert standing.posterior == approx(np.exp(log_prior(population, BENCH)))
    assert standing.total_log10_odds == approx(0, abs=ROUNDING)
    assert standing.weights == ()
    assert standing.misfit.tail_probability == 1


def test_the_prior_of_the_bench_is_that_of_the_population(population):
    assert np.exp(log_prior(population, BENCH)) == approx(population.prior)


def test_the_order_of_readings_does_not_matter(population, read):
    readings = read(**LONG).readings
    assert len(readings) > 15
    straight = stand(population, readings, BENCH)
    rng = np.random.default_rng(5)
    for order in (range(len(readings))[::-1], rng.permutation(len(readings))):
        shuffled = stand(population, [readings[i] for i in order], BENCH)
        assert shuffled.posterior == approx(straight.posterior, abs=1e-9)
        assert shuffled.misfit.tail_probability == approx(straight.misfit.tail_probability)


def test_the_order_of_keys_in_a_record_does_not_matter(stands):
    turned = stands(**dict(reversed(LONG.items())))
    assert turned.posterior == approx(stands(**LONG).posterior, abs=1e-9)


@pytest.mark.parametrize("kind", ["rows", "stones"])
def test_a_reading_that_says_nothing_changes_nothing(population, read, everyday, kind):
    shape = population.stones.n_alpha.shape if kind == "stones" else len(population.labels)
    silent = Reading("a field", "nothing", lambda p: Term(**{kind: np.full(shape, -3.0)}))
    readings = read(**everyday["topaz"]).readings
    before = stand(population, readings, BENCH)
    after = stand(population, [*readings, silent], BENCH)
    assert after.posterior == approx(before.posterior, abs=ROUNDING)
    assert after.total_log10_odds == approx(before.total_log10_odds, abs=1e-6)
    assert after.weights[-1].log10_odds == approx(0, abs=1e-6)
    assert after.prior_odds_to_tip == approx(before.prior_odds_to_tip)


@pytest.mark.parametrize("kind", KINDS)
def test_a_weight_is_what_is_lost_when_the_reading_is_left_out(population, read, everyday, kind):
    readings = read(**everyday[kind]).readings
    whole = stand(population, readings, BENCH)
    for place, weight in enumerate(whole.weights):
        rest = [r for i, r in enumerate(readings) if i != place]
        likelihood = Evidence.gather(population, rest).likelihood()
        prior = log_prior(population, BENCH)
        without = _log10_bayes_factor(population, likelihood, prior, whole.leader, whole.runner_up)
        assert weight.log10_odds == approx(whole.total_log10_odds - without, abs=1e-6)


def test_when_the_first_of_a_cause_is_left_out_the_second_counts_in_full(population, read):
    found = read(polariscope="DR", optic_character="uniaxial")
    evidence = Evidence.gather(population, found.readings)
    assert sorted(evidence.exponents()) == [0.3, 1.0]
    for without in range(2):
        assert sorted(evidence.exponents(without)) == [0.0, 1.0]


def test_two_readings_of_one_cause_weigh_less_than_two_of_different_causes(population, hint):
    def corundum(*causes):
        readings = [fake(cause, (1.0, 0.5, 0.3), hint) for cause in causes]
        return stand(population, readings, BENCH).species["corundum"]

    one, same, different = corundum("a"), corundum("a", "a"), corundum("a", "b")
    assert one < same < different
    assert corundum("a", "a", "a") < corundum("a", "a", "b") < corundum("a", "b", "c")


def test_two_features_of_one_cause_weigh_less_than_counted_apart(population, read):
    found = read(magnification=["curved striae", "unmelted powder"], not_seen=["silk"])
    striae, powder = found.readings[:2]
    assert striae.cause == powder.cause == "melt growth"
    exponents = Evidence.gather(population, (striae, powder)).exponents()
    assert sorted(exponents) == [0.5, 1.0]


def test_trap_12_what_is_reported_twice_counts_once_and_a_part(population, read):
    def exponents(**entries):
        readings = read(**entries).readings
        values = Evidence.gather(population, readings).exponents()
        return sorted(values.tolist(), reverse=True)

    assert exponents(polariscope="DR", optic_character="uniaxial") == [1.0, 0.3]
    assert exponents(uv_lw="weak red", uv_sw="weak red") == [1.0, 0.6]
    assert exponents(colour="red", colour_incandescent="red") == [1.0, 0.5]
    assert exponents(sg="4.00", weight_air_ct=2.0, weight_liquid_ct=1.5) == [1.0, 0.0]
    # A pair holds its own birefringence, and a second figure in words is the same pair.
    assert exponents(ri_low=1.762, ri_high=1.770, birefringence=0.008) == [1.0]
    assert exponents(ri_low=1.762, ri_high=1.770, ri_text="1.765") == [1.0]


# ---- the prior -------------------------------------------------------------------------------


@pytest.mark.parametrize("setting", SETTINGS.values(), ids=list(SETTINGS))
def test_a_setting_moves_odds_by_the_factors_it_states(population, setting):
    prior = np.exp(log_prior(population, setting))
    bench = population.prior
    assert prior.sum() == approx(1, abs=ROUNDING)
    unlisted = population.rows_of("species", "unlisted")
    assert prior[unlisted] == approx(bench[unlisted])
    first = population.rows_of("origin", "natural") & population.rows_of("treatment", "")
    base = (prior / bench)[first]
    assert base == approx(base[0])
    for origin in ("synthetic", "imitation", "composite"):
        second = population.rows_of("origin", origin) & population.rows_of("treatment", "")
        stated = setting.by_origin.get(origin, 1.0) / setting.by_origin.get("natural", 1.0)
        assert (prior / bench)[second] / base[0] == approx(stated)
    treated = population.rows_of("origin", "natural") & ~population.rows_of("treatment", "")
    assert (prior / bench)[treated] / base[0] == approx(setting.treated)


def test_a_setting_moves_the_posterior_odds_by_the_same_factor(stands, rows_of):
    """Within what the readings leave open, prior and evidence multiply."""
    natural = rows_of(species="corundum", origin="natural", treatment="")
    grown = rows_of(species="corundum", origin="synthetic", treatment="")
    ruby = {"ri_low": "1.762", "ri_high": "1.770", "colour": "red"}

    def odds(met):
        posterior = stands(**ruby, met=met).posterior
        return posterior[grown].sum() / posterior[natural].sum()

    assert odds("market") / odds("bench") == approx(1.5 / 0.8)
    assert odds("known dealer") / odds("bench") == approx(0.5)


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("Market", "market"),
        ("at a fair", "market"),
        ("known dealer", "known dealer"),
        ("an old piece of 1920", "old piece"),
        ("parcel of rough from the mine", "parcel of rough"),
        ("unknown", None),
        ("sold by post", None),
        ("no idea", None),
    ],
)
def test_where_a_stone_was_met_is_known_by_whole_words(said, name):
    setting = setting_of(said)
    assert (setting and setting.name) == name


def test_the_span_covers_the_answer(stands, everyday):
    for met in SETTINGS:
        for kind in KINDS:
            standing = stands(**everyday[kind], met=met)
            answer = standing.species[standing.leader]
            assert standing.span[met] == approx(answer)
            assert set(standing.span) == set(SETTINGS)
            assert min(standing.span.values()) - ROUNDING <= answer
            assert answer <= max(standing.span.values()) + ROUNDING


@pytest.mark.parametrize("kind", KINDS)
def test_the_prior_odds_to_tip_really_tip(population, read, everyday, kind):
    readings = read(**everyday[kind]).readings
    standing = stand(population, readings, BENCH)
    likelihood = Evidence.gather(population, readings).likelihood()
    held = population.rows_of("species", standing.leader)
    prior = log_prior(population, BENCH)
    share = standing.prior_odds_to_tip / (1 + standing.prior_odds_to_tip)
    tipped = np.where(
        held,
        prior - np.log(np.exp(prior[held]).sum()) + np.log(share),
        prior - np.log(np.exp(prior[~held]).sum()) + np.log1p(-share),
    )
    assert np.exp(tipped).sum() == approx(1, abs=ROUNDING)
    posterior = likelihood.posterior(tipped)[held].sum()
    assert posterior / (1 - posterior) == approx(1, rel=0.01)


def test_bayes_factor_and_prior_odds_make_the_posterior_odds(population, stands, everyday):
    for kind in KINDS:
        standing = stands(**everyday[kind])
        first, second = (
            population.rows_of("species", name) for name in (standing.leader, standing.runner_up)
        )
        prior_odds = population.prior[first].sum() / population.prior[second].sum()
        odds = standing.species[standing.leader] / standing.species[standing.runner_up]
        assert np.log10(odds / prior_odds) == approx(standing.total_log10_odds, abs=1e-6)


# ---- effective stones ------------------------------------------------------------------------


def test_everyday_stones_rest_on_more_than_ten_virtual_ones(stands, everyday):
    for kind, record in everyday.items():
        assert not stands(**record).is_thin, kind


def test_the_effective_number_is_all_stones_when_nothing_was_read(population, stands):
    standing = stands()
    by_stratum = np.bincount(population.stratum, population.prior)
    assert standing.effective_stones == approx(
        population.stones.n_alpha.shape[1] / (by_stratum**2).sum()
    )


def test_a_choice_between_two_words_is_certain_to_be_one_of_them(population):
    table = np.tile([0.3, 0.7], (len(population.labels), 1))
    both = sum(np.exp(choice(population, table, outcome).rows) for outcome in (0, 1))
    assert both == approx(1)
