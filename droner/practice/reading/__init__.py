"""Read what the player wrote: TOML into frozen records, every mistake with its place and a way out."""
