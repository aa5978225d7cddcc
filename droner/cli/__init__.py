"""The commands: one a file. The only floor that knows everything."""
