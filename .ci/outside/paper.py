#!/usr/bin/env python3
"""Holds the pages to print against other programs.

For every routine that ships: the PDF is read by poppler (pdfinfo, pdftotext, pdftoppm) and the HTML
is printed by Debian's chromium. Says where the number of pages differs, where a text of the cue sheet
is not found in the PDF, and where a page is not grey alone or has no dark mark on it in red or in
blue light.

Needs: poppler-utils, chromium, python3-pil. Run it from the project's folder after
`cargo build --release`.
"""

import json
import pathlib
import subprocess
import sys
import tempfile

from PIL import Image

PROGRAM = pathlib.Path("target/release/throwbook")
WHAT = "cues,strip"


def run(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def pages_of(pdf):
    return int(run("pdfinfo", str(pdf)).split("Pages:")[1].split()[0])


def printed_by_a_browser(html, pdf):
    subprocess.run(
        ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
         f"--print-to-pdf={pdf}", html.as_uri()],
        check=True, capture_output=True, timeout=120)


def darkest(image, channel):
    return image.getchannel(channel).getextrema()[0]


def check(routine, folder):
    faults = []
    pdf, html = folder / "a.pdf", folder / "a.html"
    for target in (pdf, html):
        run(str(PROGRAM), "print", str(routine), "--what", WHAT, "-o", str(target))
    browser = folder / "browser.pdf"
    printed_by_a_browser(html, browser)
    ours, theirs = pages_of(pdf), pages_of(browser)
    if ours != theirs:
        faults.append(f"{ours} pages in the PDF, {theirs} printed by the browser")
    text = " ".join(run("pdftotext", "-layout", str(pdf), "-").split())
    sheet = json.loads(run(str(PROGRAM), "cues", str(routine), "--format", "json"))
    for cue in sheet["cues"]:
        if cue["number"] and cue["number"] not in text:
            faults.append(f"cue {cue['number']} is not in the PDF's text")
    run("pdftoppm", "-r", "40", "-png", str(pdf), str(folder / "page"))
    for page in sorted(folder.glob("page-*.png")):
        image = Image.open(page).convert("RGB")
        for channel in "RB":
            if darkest(image, channel) > 96:
                faults.append(f"{page.name}: nothing dark in {channel} alone")
    return ours, faults


def main():
    bad = 0
    for routine in sorted(pathlib.Path("routines").glob("*.ron")):
        with tempfile.TemporaryDirectory() as folder:
            pages, faults = check(routine, pathlib.Path(folder))
        print(f"{routine.name}: {pages} pages; {'; '.join(faults) or 'as it should be'}")
        bad += bool(faults)
    sys.exit(bad > 0)


if __name__ == "__main__":
    main()
