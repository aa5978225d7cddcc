"""Lay a drill out in a key over a compass: material, cells and path become a line of written pitches."""
