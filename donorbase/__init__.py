"""Reads used-axle listings, says what the axle probably is, and judges it against a build.

Imports nothing, so that ``import donorbase`` costs nothing; the library's face is :mod:`donorbase.api`.
"""

__version__ = "0.1.0"
