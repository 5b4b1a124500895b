"""Files that hold other things: one leaf a kind, found by listing this folder."""
