"""``donorbase calc wait``."""

import click

from donorbase.cli.calc_answer import Answer, example, json_option, show


@click.command(epilog=example("wait --saving 250 --gone 40 --dearer 300"))
@click.option("--saving", type=click.FloatRange(0), required=True, help="USD less if it is still there later.")
@click.option("--gone", type=click.FloatRange(0, 100), required=True, help="Chance in percent that it is gone by then.")
@click.option("--dearer", type=float, required=True, help="USD that the next best costs more, landed, than this now.")
@json_option
def wait(saving: float, gone: float, dearer: float, as_json: bool) -> None:
    """What waiting for a lower price brings on the average, and from which chance of its being gone it does not pay."""
    from donorbase.engineering import waiting

    gain = waiting.expected_gain_usd(saving, gone / 100, dearer)
    even = waiting.even_chance(saving, dearer)
    says = [f"Waiting {'brings' if gain >= 0 else 'costs'} {abs(gain):,.0f} USD on the average."]
    says.append(
        "It costs nothing, whatever the chance." if even is None
        else f"The two cost the same where it is gone with a chance of {even:.0%}."
    )  # fmt: skip
    data = {"gain_usd": round(gain, 2), "even_chance_gone": even if even is None else round(even, 4)}
    source = (
        "expected values: saving x chance that it is there, less what the next best costs more x chance that it is not"
    )
    assumes = ["your own guess of the chance; the time you lose is not in the sum"]
    show(Answer(data, source, says, (), assumes), as_json)
