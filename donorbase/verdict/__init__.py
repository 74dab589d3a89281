"""Build + facts -> Verdict: conditions, requirements, three values, work, money, questions.

Imports facts, attributes, errors, reference, identity, engineering.
"""
