"""Write a plan item out as one `Score`: who plays what, when, exactly. Pure."""
