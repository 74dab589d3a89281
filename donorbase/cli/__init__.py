"""One file per command group, loaded when asked for; parse, call one service, print."""
