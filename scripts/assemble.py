"""Assembles the built page: a site for a web server, and the same page as one self-contained file.

    python3 scripts/assemble.py WWW GLUE DIST

WWW holds the hand-written files, GLUE the compiled wasm of app and views with its JavaScript. Writes DIST/site and
DIST/clothyard.html, scripts and styles minified by esbuild. Uses no clock, so equal input gives equal output.
"""

import base64
import hashlib
import json
import re
import shutil
import subprocess
import sys
import tempfile
from html import escape
from html.parser import HTMLParser
from pathlib import Path

GLUE_FILES = ("clothyard.js", "clothyard_bg.wasm", "clothyard_views.js", "clothyard_views_bg.wasm")
SINGLE_FILE = "clothyard.html"
LATER = ("more", "tools")
NOT_SERVED = {"retire.js"}
VIEWS_IMPORT = 'import(again("./clothyard_views.js", tries))'
VIEWS_IMPORT_BUNDLED = 'import("./clothyard_views.js")'
POLICY = (
    "default-src 'none'; script-src {script} 'wasm-unsafe-eval'; connect-src 'none'; style-src {style}; "
    "img-src data:; base-uri 'none'; form-action 'none'; require-trusted-types-for 'script'; trusted-types 'none'"
)
ESBUILD = Path(__file__).resolve().parent / "node_modules/.bin/esbuild"
VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}


def sha256(content):
    """The hash in the form of Content-Security-Policy and subresource integrity."""
    return "sha256-" + base64.b64encode(hashlib.sha256(content).digest()).decode()


def build_hash(inputs):
    digest = hashlib.sha256()
    for name, content in sorted(inputs.items()):
        digest.update(f"{name} {len(content)}\n".encode() + content)
    return digest.hexdigest()[:12]


def replace_once(text, old, new, where):
    if text.count(old) != 1:
        raise SystemExit(f"{where}: expected {old!r} once, found it {text.count(old)} times")
    return text.replace(old, new)


def esbuild(*options, **of):
    command = [ESBUILD, "--minify", "--target=es2022", *options]
    return subprocess.run(command, stdout=subprocess.PIPE, check=True, **of).stdout


def minified(name, content):
    """A text without what is there for those who read the sources."""
    kind = Path(name).suffix[1:]
    if kind == "html":
        return re.sub(rb"\n\s+", b"\n", re.sub(rb"<!--.*?-->\n?", b"", content, flags=re.DOTALL))
    return esbuild(f"--loader={kind}", input=content) if kind in {"js", "css"} else content


def bundled(inputs):
    """boot.js and the glue of app and views as one module, which never asks for offline.js."""
    with tempfile.TemporaryDirectory() as folder:
        for name in ("boot.js", "keep.js", "clothyard.js", "clothyard_views.js"):
            Path(folder, name).write_bytes(inputs[name])
        boot = replace_once(inputs["boot.js"].decode(), VIEWS_IMPORT, VIEWS_IMPORT_BUNDLED, "boot.js")
        Path(folder, "boot.js").write_text(boot)
        return esbuild("--bundle", "--external:./offline.js", "--format=esm", "boot.js", cwd=folder)


def body(page):
    """What is on a page, without the page around it."""
    return page.split("<body>", 1)[1].rsplit("</body>", 1)[0]


class SingleFile(HTMLParser):
    """Copies index.html unchanged except for what needs a server."""

    def __init__(self, inputs):
        super().__init__(convert_charrefs=False)
        self.inputs, self.parts, self.dropping = inputs, [], []
        style = b"".join(inputs[name] for name in ("style.css", "more.css", "tools.css"))
        self.style = "\n" + minified("style.css", style).decode()
        self.script = "\n" + bundled(inputs).decode()
        for text, end in ((self.style, "</style"), (self.script, "</script"), (self.script, "<!--")):
            if end in text.lower():
                raise SystemExit(f"inlined text contains {end!r}, which would end it early")

    def page(self):
        return self.inputs["index.html"].decode()

    def text(self):
        self.feed(self.page())
        self.close()
        return "".join(self.parts)

    def emit(self, text):
        if not self.dropping:
            self.parts.append(text)

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        if self.dropping or "data-site-only" in given:
            if not self.dropping and self.parts:
                self.parts[-1] = self.parts[-1].rstrip(" ")  # drops its indentation
            if tag not in VOID:
                self.dropping.append(tag)
        elif tag == "link":
            pass  # the stylesheets are inlined in <style>; icons, manifest and preloads need a server
        elif tag == "meta" and given.get("http-equiv", "").lower() == "content-security-policy":
            self.emit(self.head())
        elif tag == "script":
            self.dropping.append(tag)
            if given.get("src") != "boot.js":
                raise SystemExit(f"index.html: a script other than boot.js: {self.get_starttag_text()}")
        else:
            self.emit(self.get_starttag_text())

    def handle_startendtag(self, tag, attributes):
        if tag in VOID:
            self.handle_starttag(tag, attributes)
        elif "data-site-only" not in dict(attributes):
            self.emit(self.get_starttag_text())

    def handle_endtag(self, tag):
        if self.dropping:
            if self.dropping.pop() != tag:
                raise SystemExit(f"index.html: </{tag}> closes another element inside one that is dropped")
            return
        if tag == "body":
            for name in LATER:
                self.emit(f'<template id="{name}-markup">{body(self.inputs[f"{name}.html"].decode())}</template>\n')
            for place, name in (("wasm", "clothyard_bg.wasm"), ("wasm-views", "clothyard_views_bg.wasm")):
                wasm = base64.b64encode(self.inputs[name]).decode()
                self.emit(f'<script type="text/plain" id="{place}">{wasm}</script>\n')
            self.emit(f'<script type="module">{self.script}</script>\n')
        self.emit(f"</{tag}>")

    def head(self):
        hashes = {name: f"'{sha256(text.encode())}'" for name, text in (("script", self.script), ("style", self.style))}
        policy = escape(POLICY.format(**hashes), quote=False)
        return f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n<style>{self.style}</style>'

    def handle_data(self, data):
        self.emit(data)

    def handle_entityref(self, name):
        self.emit(f"&{name};")

    def handle_charref(self, name):
        self.emit(f"&#{name};")

    def handle_comment(self, data):
        self.emit(f"<!--{data}-->")

    def handle_decl(self, declaration):
        self.emit(f"<!{declaration}>")


def worker(source, build, site):
    """sw.js with the cache name, and the hash of every file to cache. index.html is cached as the folder itself; the
    single file, which has everything a second time, is fetched only when it is asked for."""
    kept = sorted((name, content) for name, content in site.items() if name != SINGLE_FILE)
    files = {"./" if name == "index.html" else name: sha256(content) for name, content in kept}
    source = replace_once(source, '"BUILD"', json.dumps(build), "sw.js")
    return replace_once(source, '"FILES"', json.dumps(files, indent=2), "sw.js")


def main(www, glue, dist):
    inputs = {path.name: path.read_bytes() for path in Path(www).iterdir() if path.name not in NOT_SERVED}
    inputs |= {name: Path(glue, name).read_bytes() for name in GLUE_FILES}
    build = build_hash(inputs)
    index = replace_once(inputs["index.html"].decode(), 'content="BUILD"', f'content="{build}"', "index.html")
    inputs["index.html"] = index.encode()
    inputs["style.css"] = replace_once(inputs["style.css"].decode(), "build BUILD", f"build {build}", "style.css").encode()
    source = inputs.pop("sw.js").decode()

    site = {name: minified(name, content) for name, content in inputs.items()}
    whole = inputs | {name: site[name] for name in ("index.html", "more.html", "tools.html")}
    site[SINGLE_FILE] = SingleFile(whole).text().encode()
    site["sw.js"] = minified("sw.js", worker(source, build, site).encode())

    folder = Path(dist, "site")
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    for name, content in site.items():
        (folder / name).write_bytes(content)
    Path(dist, SINGLE_FILE).write_bytes(site[SINGLE_FILE])
    print(f"build {build}: {len(site)} files in {folder}")


if __name__ == "__main__":
    main(*sys.argv[1:])
