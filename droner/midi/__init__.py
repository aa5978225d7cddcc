"""Turn a `Score` into a Standard MIDI File. The only floor that knows mido."""
