"""`python -m mmbuilder`."""

from mmbuilder.cli.main import run

if __name__ == "__main__":
    run()
