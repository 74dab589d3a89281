"""The next best question: worked values of information theory, and brute force over all answers."""

from itertools import pairwise

import pytest

from donorbase.attributes import attribute
from donorbase.facts import Fact, Known
from donorbase.identity.belief import attribute_belief
from donorbase.identity.identification import Identification
from donorbase.identity.identify import identify
from donorbase.identity.model import model_of
from donorbase.identity.questions import Answers, answers_to, entropy_bits, questions
from donorbase.identity.truth import told_of
from donorbase.reference.load import load_catalogue
from donorbase.reference.odds import load_rates

CATALOGUE = load_catalogue()
FOURTEEN_BOLT = (
    Fact("position", "rear"), Fact("cover_bolts", 14), Fact("lugs", 8), Fact("years", (1996, 1996)),
    Fact("load_class", "three-quarter-ton"), Fact("brakes", "drum"), Fact("rear_wheels", "single"),
)  # fmt: skip
COIL_FRONT = (
    Fact("position", "front"), Fact("fits_years", (2005, 2016)), Fact("suspension", "coil"), Fact("lugs", 8),
)  # fmt: skip


def split(sizes: tuple[int, ...], error: float = 0.0) -> Answers:
    """Equal candidates that answer a question in groups of those sizes, a wrong answer being any other."""
    n = len(sizes)
    rows = []
    for group, size in enumerate(sizes):
        row = tuple(1.0 - error if i == group else error / (n - 1) for i in range(n))
        rows += [row] * size
    return Answers(tuple(range(n)), tuple(rows), (1.0 / sum(sizes),) * sum(sizes))


# Mutual information of equal candidates, worked by hand from H = -sum p log2 p.
@pytest.mark.parametrize(("sizes", "error", "bits"), [
    ((4, 4), 0.0, 1.0), ((2, 6), 0.0, 0.8113), ((1, 7), 0.0, 0.5436), ((4, 2, 2), 0.0, 1.5),
    ((4, 4), 0.05, 0.7136), ((4, 4), 0.10, 0.5310), ((2, 6), 0.05, 0.5622), ((1, 7), 0.05, 0.3539),
])  # fmt: skip
def test_information_of_an_answer(sizes: tuple[int, ...], error: float, bits: float) -> None:
    assert split(sizes, error).bits() == pytest.approx(bits, abs=5e-5)


def test_eight_equal_candidates_are_three_bits() -> None:
    assert entropy_bits([1 / 8] * 8) == pytest.approx(3.0)


def expected_entropy(facts: tuple[Fact, ...], name: str, answers: Answers) -> float:
    """The entropy left after measuring, by asking the identification anew for each answer."""
    left = reached = 0.0
    for value, chance in zip(answers.values, answers.together(), strict=False):
        told = (*facts, Fact(name, (value, value) if name == "years" else value, Known.MEASURED))
        left += chance * identify(told, CATALOGUE).entropy_bits()
        reached += chance
    return left / reached


@pytest.mark.parametrize("facts", [FOURTEEN_BOLT, COIL_FRONT], ids=["fourteen-bolt", "coil-front"])
def test_brute_force_over_all_answers_gives_the_same_bits_and_the_same_best_question(
    facts: tuple[Fact, ...],
) -> None:
    found = identify(facts, CATALOGUE)
    told = told_of(model_of(CATALOGUE), facts)
    ranked = questions(facts, CATALOGUE, found)
    by_force = {}
    for question in ranked[:12]:
        answers = answers_to(told, question.attribute, found)
        by_force[question.attribute] = found.entropy_bits() - expected_entropy(facts, question.attribute, answers)
    choices = [q for q in ranked[:12] if attribute(q.attribute).kind == "choice"]
    assert choices
    for question in choices:
        assert question.bits == pytest.approx(by_force[question.attribute], abs=0.03)
    asking = load_rates().asking_min
    best = max(ranked[:12], key=lambda q: by_force[q.attribute] / (q.trouble + asking))
    assert best.attribute == ranked[0].attribute


def test_the_float_settles_the_fourteen_bolt() -> None:
    # Common practice: eight lugs and fourteen bolts come full and semi float; one look at the hub tells.
    ranked = questions(FOURTEEN_BOLT, CATALOGUE, identify(FOURTEEN_BOLT, CATALOGUE))
    assert ranked[0].attribute in {"float", "ring_gear_in", "splines"}
    assert ranked[0].ask
    assert ranked[0].how
    assert set(ranked[0].as_json()) == {"attribute", "bits", "how"}


def test_questions_stand_by_bits_over_minutes() -> None:
    ranked = questions(COIL_FRONT, CATALOGUE, identify(COIL_FRONT, CATALOGUE))
    worth = [q.bits / (q.trouble + load_rates().asking_min) for q in ranked]
    assert all(one >= other for one, other in pairwise(worth))
    assert not {q.attribute for q in ranked} & {"float", "splines", "family", "variant"}


def test_no_answer_tells_more_than_is_unknown() -> None:
    found = identify(COIL_FRONT, CATALOGUE)
    assert all(0.0 < q.bits <= found.entropy_bits() for q in questions(COIL_FRONT, CATALOGUE, found))


def test_what_was_measured_already_is_worth_little_more() -> None:
    said, measured = Fact("bolt_circle_mm", 170.0), Fact("bolt_circle_mm", 170.0, Known.MEASURED, sd=0.25)
    bits = []
    for facts in (COIL_FRONT, (*COIL_FRONT, said), (*COIL_FRONT, measured)):
        ranked = questions(facts, CATALOGUE, identify(facts, CATALOGUE))
        bits.append(next((q.bits for q in ranked if q.attribute == "bolt_circle_mm"), 0.0))
    assert bits[0] > bits[1] > bits[2]


# The question that changes the decision, not the identity.


def full_float_wanted(found: Identification, facts: tuple[Fact, ...]) -> str:
    chance, _ = attribute_belief("float", facts, found, CATALOGUE).chance(lambda v: v == "full")
    return "fits" if chance > 0.95 else "does not fit" if chance < 0.05 else "unclear"


def test_the_decision_asks_for_what_decides_it() -> None:
    found = identify(FOURTEEN_BOLT, CATALOGUE)
    assert full_float_wanted(found, FOURTEEN_BOLT) == "unclear"
    ranked = questions(FOURTEEN_BOLT, CATALOGUE, found, decide=full_float_wanted)
    assert ranked[0].attribute == "float"
    # One look at the hub leaves nothing unclear; a spline count that both kinds can have leaves it so.
    assert 0.9 < ranked[0].bits <= 1.0
    assert all(q.bits < ranked[0].bits for q in ranked[1:])


def test_brute_force_over_all_answers_gives_the_same_chance_of_another_decision() -> None:
    found = identify(FOURTEEN_BOLT, CATALOGUE)
    told = told_of(model_of(CATALOGUE), FOURTEEN_BOLT)
    for question in questions(FOURTEEN_BOLT, CATALOGUE, found, decide=full_float_wanted)[:6]:
        answers = answers_to(told, question.attribute, found)
        changed = 0.0
        for value, chance in zip(answers.values, answers.together(), strict=False):
            facts = (*FOURTEEN_BOLT, Fact(question.attribute, value, Known.MEASURED))
            changed += chance * (full_float_wanted(identify(facts, CATALOGUE), facts) != "unclear")
        assert question.bits == pytest.approx(changed, abs=0.03)


def test_a_decision_that_nothing_changes_needs_no_question() -> None:
    found = identify(FOURTEEN_BOLT, CATALOGUE)
    assert questions(FOURTEEN_BOLT, CATALOGUE, found, decide=lambda i, f: "does not fit") == ()


def test_a_decision_may_come_with_its_chances() -> None:
    def chances(found: Identification, facts: tuple[Fact, ...]) -> dict[str, float]:
        holds, unknown = attribute_belief("float", facts, found, CATALOGUE).chance(lambda v: v == "full")
        return {"fits": holds, "does not fit": max(0.0, 1.0 - holds - unknown), "unclear": unknown}

    found = identify(FOURTEEN_BOLT, CATALOGUE)
    ranked = questions(FOURTEEN_BOLT, CATALOGUE, found, decide=chances)
    assert ranked[0].attribute == "float"
