"""The open questions of a verdict as a short message to the seller."""

from donorbase.verdict.verdicts import ListingVerdict

ASKED_AT_ONCE = 3
"""A seller who is asked more at once answers nothing."""


def seller_message(verdict: ListingVerdict) -> str:
    """At most three open questions in plain polite words, numbered, the ones that settle most first.

    Empty where nothing is open.
    """
    asked = [question.ask for question in verdict.questions[:ASKED_AT_ONCE]]
    if not asked:
        return ""
    ends = list(dict.fromkeys(verdict.items[number].end for number in verdict.chosen))
    thing = f"{' and '.join(ends)} axle{'s' if len(ends) > 1 else ''}" if ends else "axle"
    one = len(asked) == 1
    lead = f"Hello, I am interested in your {thing}. Could you please tell me {'one thing' if one else 'this'}?"
    lines = asked if one else [f"{number}. {ask}" for number, ask in enumerate(asked, 1)]
    return "\n".join([lead, *lines, "Thank you!"])
