"""Many signals on one supply: wires, fuses, shorts."""
