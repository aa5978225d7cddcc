"""What to practise today: session, patterns, drill, variant, rotation, ladder, plan. Pure but for its shores."""
