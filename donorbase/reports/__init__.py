"""Results -> pages to print or to open on a phone: self-contained, without scripts."""
