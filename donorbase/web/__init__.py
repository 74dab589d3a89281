"""The pages to paste into: the same services as the command line, on this computer alone."""
