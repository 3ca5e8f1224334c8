"""What a clinician can do at the bedside, and how free words are read as a request."""
