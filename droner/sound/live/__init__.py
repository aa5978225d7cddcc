"""Play samples through the computer's loudspeaker as they are made. The floor below `--speaker`."""
