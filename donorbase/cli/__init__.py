"""The command line: one file per command group, loaded when asked for; parse, call one service, print.

May import services and what they hand back. click lives here alone, tabulate in ``output`` alone.
"""
