"""One run of ngspice as a program: the operating point of a netlist, every figure by its name."""

import re
import shutil
import subprocess

import pytest


def operating_point(netlist, folder):
    """What ngspice says of a netlist that ends in ".op"; the test is skipped where the program is missing."""
    program = shutil.which("ngspice")
    if program is None:
        pytest.skip("ngspice is not installed")
    (folder / "circuit.cir").write_text(netlist)
    subprocess.run(
        [program, "-b", "-r", "circuit.raw", "circuit.cir"],
        cwd=folder,
        env={"HOME": str(folder), "SPICE_ASCIIRAWFILE": "1"},
        check=True,
        capture_output=True,
        timeout=120,
    )
    head, body = (folder / "circuit.raw").read_text().split("Values:\n")
    names = re.findall(r"^\s+\d+\s+(\S+)\s+(?:voltage|current)", head, re.MULTILINE)
    values = [float(each) for each in re.findall(r"[-+]?\d\.\d+e[-+]\d+", body)]
    return dict(zip(names, values, strict=True))
