"""The dialogue of the yard: what was seen, what it may be, and what to look at next."""

from flask import Blueprint, render_template, request

from donorbase.attributes import attribute, attributes, of_scope
from donorbase.identity.identification import Question
from donorbase.services.builds import find_build
from donorbase.services.desk import RAW_MEASUREMENTS, Identified
from donorbase.web.asked import build_names, desk, given, house

yard_pages = Blueprint("yard", __name__)

_SHOWN = 5


@yard_pages.route("/yard", methods=["GET", "POST"])
def yard() -> str:
    """Ask the best question first; what was answered stands in the form, so that nothing is kept between pages."""
    saw = _saw()
    skipped = [name for name in request.form.getlist("skipped") if name in attributes()]
    answer, asked = given("answer"), given("asked")
    faults: tuple[str, ...] = ()
    build = find_build(house(), given("build")) if given("build") else None
    if asked and "skip" in request.form:
        skipped.append(asked)
    elif asked and answer:
        faults = desk().identify({asked: answer}).faults
        saw |= {} if faults else {asked: answer}
    found = desk().identify(saw, build)
    return render_template(
        "yard.html",
        saw=saw,
        skipped=skipped,
        found=found,
        candidates=found.identification.candidates[:_SHOWN],
        faults=faults or found.faults,
        question=_next(found, saw, skipped),
        names=[*RAW_MEASUREMENTS, *(a.name for a in of_scope("axle") if a.measurable)],
        builds=build_names(),
        build=given("build"),
    )


def _saw() -> dict[str, str]:
    """What the form says was seen: fields ``saw:NAME`` but for the one taken back, and the line added by hand."""
    saw = {k.removeprefix("saw:"): v for k, v in request.form.items() if k.startswith("saw:") and v.strip()}
    saw.pop(given("take-back"), None)
    if given("name") and given("value"):
        saw[given("name")] = given("value")
    return saw


def _next(found: Identified, saw: dict[str, str], skipped: list[str]) -> tuple[Question, tuple[str, ...]] | None:
    """The best question that is not answered, with the words to choose from where there are such."""
    for question in found.next:
        if question.attribute not in saw and question.attribute not in skipped:
            return question, attribute(question.attribute).values
    return None
