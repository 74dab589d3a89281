"""Recyclers' grade of a mechanical part by its miles and age."""

from donorbase.errors import BadInput

SOURCE = "grades of the Automotive Recyclers Association for mechanical parts, as explainers print them"
GRADE_A_MI, GRADE_B_MI, A_YEAR_MI = 60_000, 200_000, 15_000


def recyclers_grade(miles: float | None, age_years: float | None) -> str:
    """``A``, ``B``, ``C``, or ``X`` where the miles are not known.

    A: up to 60,000 miles, or up to 200,000 at no more than 15,000 a year; B: 60,000-200,000 at more than
    that a year; C: above 200,000. Where the age is not known, more than 60,000 miles are taken as B.
    Source: SOURCE.
    """
    if miles is None:
        return "X"
    if miles < 0 or (age_years is not None and age_years < 0):
        raise BadInput("miles and age cannot be under 0", "Give the donor's miles and its age in years.")
    if miles > GRADE_B_MI:
        return "C"
    slow = age_years is not None and miles <= A_YEAR_MI * age_years
    return "A" if miles <= GRADE_A_MI or slow else "B"
