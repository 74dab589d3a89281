"""build + reading + identification -> Verdict. Imports identity, engineering, reference and below."""
