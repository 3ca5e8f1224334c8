"""What every page and API answer shares: error pages and entity tags."""
