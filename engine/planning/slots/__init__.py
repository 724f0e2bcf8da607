"""What may fill each kind of gap: a source, a strip, a run."""
