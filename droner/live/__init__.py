"""What both live outputs share: their words, signals, the machine's time, quiet C libraries, a click without end."""
