"""The logbook: what was played and how it went, for ever."""
