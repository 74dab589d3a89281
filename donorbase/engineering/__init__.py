"""Formulas, a file a subject, each with its source. Imports reference and below."""
