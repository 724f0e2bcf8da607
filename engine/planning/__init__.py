"""Planning: the gaps of a station filled so that most margins are kept, and then at least cost."""
