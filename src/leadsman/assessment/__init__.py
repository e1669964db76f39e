"""Is it safe, when, why not: things unpacked into numbers, formulas called, judged."""
