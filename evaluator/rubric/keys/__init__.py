"""What each key of our files means, in a sentence."""
