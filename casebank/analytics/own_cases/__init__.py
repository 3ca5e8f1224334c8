"""What an author sees of how students fared with an own case: pooled, small cells hidden."""
