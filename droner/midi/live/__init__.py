"""Play a score live through a MIDI port, leave nothing sounding, and hear pedals. The floor below `droner play`."""
