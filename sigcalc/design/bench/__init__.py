"""What the meter should read, and what is wrong when it reads something else."""
