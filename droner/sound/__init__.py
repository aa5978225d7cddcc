"""Turn a `Score` into sound, block by block, and into audio files. The only floor that knows numpy."""
