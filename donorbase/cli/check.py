"""``donorbase check``."""

from typing import TYPE_CHECKING, Any

import click

from donorbase.cli.forms import csv_form
from donorbase.cli.paste import answer_lines, pasted
from donorbase.cli.proposed import FILE
from donorbase.cli.told import build_option

if TYPE_CHECKING:
    from donorbase.services.desk import Checked, Desk
    from donorbase.services.house import House
    from donorbase.verdict.sums import Landed
    from donorbase.verdict.verdicts import Asked, Finding, ItemVerdict, ListingVerdict

EXIT_CODES = {"fits": 0, "fits with work": 10, "unclear": 11, "does not fit": 12}
"""What ``--exit-code`` leaves with."""


@click.command(epilog="\b\nExample:\n    donorbase check advert.txt --build crawler --distance-mi 40")
@click.argument("source", type=FILE, required=False, metavar="[FILE|-]")
@build_option()
@click.option("--all-builds", is_flag=True, help="Judge it against every build you keep, best first.")
@click.option("--distance-mi", type=click.FloatRange(0, 5000), help="How far away it is, one way.")
@click.option("--all", "everything", is_flag=True, help="Show the requirements that are met, too, and why.")
@click.option("--json", "as_json", is_flag=True, help="Print everything as JSON.")
@click.option("--message", is_flag=True, help="Print only a message to the seller: at most three open questions.")
@click.option("--exit-code", is_flag=True, help="Leave with 0 fits, 10 fits with work, 11 unclear, 12 does not fit.")
@click.option(
    "--jsonl",
    type=FILE,
    metavar="FILE",
    help='Read lines of {"id", "build", "listing", "distance_mi"}; print a line of JSON for each.',
)
@click.option("--encoding", help="The file's encoding, where it is not UTF-8.")
@csv_form
@click.pass_context
def check(
    ctx: click.Context,
    source: str | None,
    build_name: str | None,
    all_builds: bool,
    distance_mi: float | None,
    everything: bool,
    as_json: bool,
    message: bool,
    exit_code: bool,
    jsonl: str | None,
    encoding: str | None,
) -> None:
    """Judge a pasted listing against a build: verdict, reasons, the questions that matter, work and cost.

    Paste the advert and end it with Ctrl-D, or name a file. "Unclear" comes with the question that settles it.
    """
    from donorbase.cli.context import open_desk, open_house
    from donorbase.cli.output import show_json
    from donorbase.services.builds import find_build

    _agree(as_json, message, exit_code, jsonl)
    if all_builds and (build_name or jsonl or message or exit_code or everything):
        raise click.UsageError("--all-builds goes with --json and --distance-mi alone.")
    house = open_house(ctx.obj)
    if jsonl:
        desk = open_desk(house)
        answer_lines(jsonl, ("id", "listing"), lambda row: _judged_line(desk, house, row, build_name))
        return
    if all_builds:
        _show_all_builds(house, pasted(source, encoding), distance_mi, as_json)
        return
    if not build_name:
        raise click.UsageError("Name a build: --build NAME, or --build FILE.toml.")
    build = find_build(house, build_name)
    text = pasted(source, encoding)
    checked = open_desk(house).check(text, build, distance_mi)
    if as_json:
        show_json(checked.as_json())
    elif message:
        _show_message(checked.verdict)
    else:
        show_checked(checked, build.money.landed_limit_usd, everything=everything)
    if exit_code:
        ctx.exit(EXIT_CODES[checked.verdict.verdict])


def _show_all_builds(house: "House", text: str, distance_mi: float | None, as_json: bool) -> None:
    from donorbase.cli.candidate_add import show_for_builds
    from donorbase.cli.context import open_desk
    from donorbase.cli.output import caution, show_json
    from donorbase.services.every_build import judge_for_each

    judged = judge_for_each(house, open_desk(house), text, distance_mi)
    if as_json:
        show_json([one.as_json() for one in judged])
    else:
        show_for_builds(judged)
        caution()


def _agree(as_json: bool, message: bool, exit_code: bool, jsonl: str | None) -> None:
    """UsageError where options do not go together."""
    if message and as_json:
        raise click.UsageError("--message prints words and --json data: choose one.")
    if jsonl and (message or exit_code):
        raise click.UsageError("--message and --exit-code are for one listing, not for --jsonl.")


def _show_message(verdict: "ListingVerdict") -> None:
    from donorbase.cli.output import tell
    from donorbase.services.message import seller_message

    text = seller_message(verdict)
    tell(text or f"There is nothing to ask: {verdict.verdict}.", err=not text)


def _judged_line(desk: "Desk", house: "House", row: dict[str, Any], build_name: str | None) -> dict[str, Any]:
    from donorbase.services.builds import build_of
    from donorbase.services.intake import distance_of, record_text

    build = build_of(house, row.get("build", build_name))
    return desk.check(record_text(row, "listing"), build, distance_of(row)).verdict.as_json()


def show_checked(
    checked: "Checked", limit_usd: float | None, *, everything: bool = False, cautioned: bool = True
) -> None:
    """Print a verdict as a person reads it: the word, what it is, why, what to ask, what it costs, cautions."""
    from donorbase.cli.output import caution, say_verdict
    from donorbase.services.message import ASKED_AT_ONCE

    verdict = checked.verdict
    say_verdict(verdict.verdict, f"   ({verdict.chance:.0%} that it meets every must as it stands)")
    for number in verdict.chosen:
        _show_identity(verdict.items[number])
    _show_lines("Why", verdict.reasons)
    _show_lines("Ask", [_question(asked) for asked in verdict.questions[: None if everything else ASKED_AT_ONCE]])
    for number in verdict.chosen:
        _show_findings(verdict.items[number], everything)
    _show_money(verdict, limit_usd)
    _show_lines("Mind", (*verdict.notes, *checked.cautions))
    if cautioned:
        caution()


_DECIDES = 0.1
"""A question of this weight or less cannot change the verdict by itself."""


def _question(asked: "Asked") -> str:
    from donorbase.verdict.subjects import title_of

    about = title_of(asked.subject)
    return f"{asked.ask} (decides: {about})" if asked.weight > _DECIDES else f"{asked.ask} (to be sure of: {about})"


def _show_identity(item: "ItemVerdict") -> None:
    from donorbase.cli.output import say

    say(f"The {item.end} is {item.taken_for}.")
    others = [c for c in item.identification.candidates[1:4] if c.probability >= 0.05]
    if others:
        words = ", ".join(f"{c.variant or 'none of these'} ({c.probability:.0%})" for c in others)
        say(f"It may also be: {words}.")


def _show_lines(title: str, lines: "tuple[str, ...] | list[str]") -> None:
    from donorbase.cli.output import heading, say

    if lines:
        say()
        heading(title)
        for line in lines:
            say(f"- {line}")


def _show_findings(item: "ItemVerdict", everything: bool) -> None:
    from donorbase.cli.output import heading, say, show_table

    shown = [f for f in item.findings if everything or f.state != "meets"]
    met = [f.requirement.subject for f in item.findings if f.state == "meets"]
    say()
    heading(f"Requirements, {item.end}")
    if shown:
        # Why stands above already, but for what is met.
        columns = ("state", "what", "asked", "chance", "because")[: 5 if everything else 4]
        show_table([_finding_row(f)[: len(columns)] for f in shown], columns)
    if not everything:
        say(f"Met: {', '.join(met)} (--all shows why)." if met else "None is met.")


def _finding_row(finding: "Finding") -> tuple[str, ...]:
    requirement = finding.requirement
    state = f"{finding.state}, cured" if finding.cured_by else str(finding.state)
    what = f"{requirement.level} {requirement.subject}"
    return state, what, requirement.condition.words(), f"{finding.chance:.0%}", finding.because


def _show_money(verdict: "ListingVerdict", limit_usd: float | None) -> None:
    from donorbase.cli.output import heading, say, show_table

    money = verdict.money
    if not money.lines:
        return
    say()
    heading("Money, USD")
    rows = [(n.label, round(n.cost.low), round(n.cost.likely), round(n.cost.high), n.source) for n in money.lines]
    if money.total:
        rows.append(("landed", round(money.total.low), round(money.total.likely), round(money.total.high), ""))
    show_table(rows, ("what", "low", "likely", "high", "source"))
    _show_reserve(money)
    if limit_usd is not None and money.total:
        told = f" ({money.chance_as_told:.0%} if nothing hidden is wrong)" if money.faults else ""
        say(f"Limit {limit_usd:,.0f}; chance to stay within it {money.chance:.0%}{told}.")
    if verdict.money_alone and money.break_even_usd is not None and money.break_even_usd > 0:
        say(f"At an asking price of {money.break_even_usd:,.0f} or less the money would do.")


def _show_reserve(money: "Landed") -> None:
    """What hidden faults may cost on top, and which lines matter most."""
    from donorbase.cli.output import say

    if not money.total:
        return
    if money.faults:
        say(f"Keep back about {money.reserve_usd:,.0f} for what nobody tells ({money.faults[0].basis}):")
        for f in sorted(money.faults, key=lambda f: -f.expected_usd)[:3]:
            say(f"- {f.name}: {f.chance:.0%} x {f.cost.low:,.0f}-{f.cost.high:,.0f}, {f.because}")
    even, nine = money.under_by_chance(0.5), money.under_by_chance(0.9)
    say(f"Even odds to stay under {even:,.0f}, nine in ten under {nine:,.0f}.")
    parts = [f"{label} {share:.0%}" for label, share in money.dearest()]
    least_sure = money.least_sure()
    doubt = f"; least sure: {least_sure[0]} ({least_sure[1]:.0%} of the spread)" if least_sure else ""
    if len(money.lines) > 1:
        say(f"Most of it: {', '.join(parts)}{doubt}.")
