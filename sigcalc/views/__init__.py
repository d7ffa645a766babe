"""Pictures and pages made from results. Everything seen is a `Picture`: drawing and finding in one object."""
