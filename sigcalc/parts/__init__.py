"""Things a builder can buy, as frozen records."""
