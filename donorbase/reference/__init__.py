"""Shipped facts of the trade: ``data/`` in, typed and checked rows out.

May import facts, attributes, shipped, errors.
"""
