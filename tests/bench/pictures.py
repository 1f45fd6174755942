"""How fast are photographs taken in, against a plain loop of Pillow in the same run?

    python -m tests.bench.pictures [--count 100] [--rounds 1]

Both make WebP pictures of 1440, 720 and 360 pixels of the same photographs of 12 megapixels, each side in a process
of its own. The plain loop opens, makes smaller and saves; Kilter also inspects, turns, cleans, hashes and keeps.
A second run of Kilter finds everything kept. Times on a shared machine say little, ratios of one run say more.
"""

from __future__ import annotations

import argparse
import io
import json
import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image

SIZE = (4032, 3024)
PLAIN = """
import json, re, sys, time
from pathlib import Path
from PIL import Image
files, out = sorted(Path(sys.argv[1]).glob("*.jpg")), Path(sys.argv[2])
started = time.perf_counter()
for file in files:
    with Image.open(file) as opened:
        for width in (1440, 720, 360):
            small = opened.resize((width, opened.height * width // opened.width), Image.Resampling.LANCZOS)
            small.save(out / f"{file.stem}-{width}.webp", "WEBP", quality=82, method=4)
"""
OURS = """
import json, re, sys, time
from pathlib import Path
from kilter.compute.pictureinfo import picture_info
from kilter.picture.encode import variants
files, out = sorted(Path(sys.argv[1]).glob("*.jpg")), Path(sys.argv[2])
started = time.perf_counter()
for file in files:
    assert not picture_info(file).problem
    for made in variants(file, [(width, "webp") for width in (1440, 720, 360)]):
        (out / made.name).write_bytes(made.data)
"""
TELL = """
seconds = time.perf_counter() - started
peak = re.search(r"VmHWM:\\s+(\\d+) kB", Path("/proc/self/status").read_text())
print(json.dumps([seconds, int(peak[1]) / 1e3]))
"""
"""`ru_maxrss` would tell the peak of the process that started this one, if that is higher."""


def write_photographs(folder: Path, count: int) -> None:
    """Photographs that differ, with the noise and the soft shades of a real one."""
    folder.mkdir(parents=True)
    shade = Image.linear_gradient("L").resize(SIZE)
    grain = Image.effect_noise(SIZE, 12)
    base = Image.merge("RGB", (shade, Image.blend(shade, grain, 0.3), grain))
    for n in range(count):
        base.paste((n * 37 % 256, n * 91 % 256, 80), (n * 11 % 3000, 500, n * 11 % 3000 + 600, 1100))
        stream = io.BytesIO()
        base.save(stream, "JPEG", quality=88)
        (folder / f"photo-{n:03}.jpg").write_bytes(stream.getvalue())


def timed(program: str, photos: Path, out: Path) -> tuple[float, float]:
    """Seconds without the import, and peak memory in MB, of a process of its own."""
    out.mkdir(exist_ok=True)
    command = [sys.executable, "-c", program + TELL, str(photos), str(out)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    seconds, memory = json.loads(done.stdout)
    return seconds, memory


def main() -> None:
    arguments = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    arguments.add_argument("--count", type=int, default=100)
    arguments.add_argument("--rounds", type=int, default=1)
    n = arguments.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        library = Path(folder)
        photos = library / "procedures" / "pictures"
        write_photographs(photos, n.count)
        (library / "mkdocs.yml").write_text("site_name: Bench\n", encoding="utf-8")
        megabytes = sum(f.stat().st_size for f in photos.iterdir()) / 1e6
        print(f"{n.count} photographs of {SIZE[0]} x {SIZE[1]} pixels, {megabytes:.0f} MB")
        for _ in range(n.rounds):
            for entry in (library / ".kilter-cache").glob("*"):
                entry.unlink()
            plain = timed(PLAIN, photos, library / "plain")
            first = timed(OURS, photos, library / "first")
            second = timed(OURS, photos, library / "second")
            for name, (seconds, memory) in (("plain Pillow", plain), ("first", first), ("second", second)):
                print(
                    f"{name:<14} {seconds:7.2f} s   {seconds / n.count * 1000:6.1f} ms a picture   peak {memory:.0f} MB"
                )
            print(f"first / plain {first[0] / plain[0]:.2f} (aim: at most 1.30)")
            print(f"second / first {second[0] / first[0] * 100:.2f} % (aim: below 2 %)")
        same = {f.name: f.read_bytes() for f in (library / "first").iterdir()}
        print(
            "second the same bytes:", same == {f.name: f.read_bytes() for f in (library / "second").iterdir()}
        )


if __name__ == "__main__":
    main()
