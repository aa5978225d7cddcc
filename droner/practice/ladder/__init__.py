"""The ladder: from slow to target, as far as what was played leads. A pure fold over the logbook."""
