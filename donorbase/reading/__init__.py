"""Text -> Reading: what a listing says, which words said it, and nothing that it does not say."""
