"""What all of the API shares."""
