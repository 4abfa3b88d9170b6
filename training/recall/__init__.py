"""Short sets of readings, what people know by rule, and when each rule comes back."""
