package report_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/report"
)

// looker is a page around a page: it opens the report in frames of two widths
// and writes down every text that leaves its box, in the page or the drawing.
const looker = `<!DOCTYPE html><meta charset="utf-8"><body><script>
const pages = %s, out = [];
let left = 2 * pages.length;
for (const page of pages) for (const width of [360, 1280]) {
  const f = document.createElement('iframe');
  f.style.cssText = 'border:0;height:900px;width:' + width + 'px';
  f.onload = () => {
    const d = f.contentDocument, w = f.contentWindow;
    if (d.documentElement.scrollWidth > width) out.push(width + ': the page is ' + d.documentElement.scrollWidth + ' wide');
    for (const r of w.performance.getEntriesByType('resource')) out.push(width + ': asks for ' + r.name);
    for (const e of d.querySelectorAll('main *:not(svg):not(svg *)')) {
      const r = e.getBoundingClientRect();
      if (e.closest('.scroll') && !e.matches('.scroll')) continue;
      if (r.width && (r.right > width + 0.5 || r.left < -0.5)) out.push(width + ': outside the page: ' + e.textContent.slice(0, 40));
      if (!e.matches('.scroll') && e.scrollWidth > e.clientWidth + 1 && e.clientWidth) out.push(width + ': outside its box: ' + e.textContent.slice(0, 40));
    }
    const svg = d.querySelector('svg'), boxes = [];
    if (svg) {
      const v = svg.viewBox.baseVal;
      for (const t of svg.querySelectorAll('text')) {
        const b = t.getBBox();
        if (b.x < 0 || b.y < 0 || b.x + b.width > v.width || b.y + b.height > v.height) out.push(width + ': outside the drawing: ' + t.textContent);
        if (t.getComputedTextLength() > +t.dataset.room) out.push(width + ': wider than its room: ' + t.textContent);
        for (const [o, text] of boxes) if (b.x + 1 < o.x + o.width && o.x + 1 < b.x + b.width && b.y + 2 < o.y + o.height && o.y + 2 < b.y + b.height) out.push(width + ': ' + t.textContent + ' lies on ' + text);
        boxes.push([b, t.textContent]);
      }
    }
    if (--left == 0) document.body.innerHTML = '<pre id="seen">' + out.map(s => s.replace(/[<&]/g, '.')).join('\n') + '\nall seen</pre>';
  };
  f.srcdoc = page;
  document.body.append(f);
}
</script>`

// browser runs headless Chromium on a file with a profile of its own; its log
// holds what a page says on the console.
func browser(t *testing.T, file string, flags ...string) (out, log string) {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("chromium is not there; .ci/run installs it")
		}
		t.Skip("chromium is not there: the page is not looked at")
	}
	profile := t.TempDir()
	args := append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
		"--user-data-dir=" + profile, "--enable-logging=stderr", "--host-resolver-rules=MAP * ~NOTFOUND", "--virtual-time-budget=20000"}, flags...)
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(path, append(args, "file://"+file)...)
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Run(); err != nil {
		t.Fatalf("%v\n%s", err, stderr.String())
	}
	return stdout.String(), stderr.String()
}

func written(t *testing.T, name string, data []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

var seen = regexp.MustCompile(`(?s)<pre id="seen">(.*?)</pre>`)

// pages are reports to look at: a call with hostile notes, and a real one on
// the widest drawing.
func pages(t *testing.T) []*report.Report {
	t.Helper()
	b := book(t, house.NoCooling)
	e := catalog(t).Equipment(house.CoolGas)
	d := held(t, b, e, house.ContactorCoilOpen, house.Tech)
	r, err := report.Of(b, "20260714-1504", d.call, report.Options{Equipment: e})
	if err != nil {
		t.Fatal(err)
	}
	return []*report.Report{openY(t), r}
}

// In a browser, at the width of a telephone and of a screen: no word outside
// its box, nothing on the console, nothing asked for.
func TestPageInABrowser(t *testing.T) {
	var texts []string
	for _, r := range pages(t) {
		var b bytes.Buffer
		if err := r.HTML(&b); err != nil {
			t.Fatal(err)
		}
		texts = append(texts, b.String())
	}
	list, err := json.Marshal(texts)
	if err != nil {
		t.Fatal(err)
	}
	dom, log := browser(t, written(t, "look.html", fmt.Appendf(nil, looker, list)), "--dump-dom")
	m := seen.FindStringSubmatch(dom)
	if m == nil || !strings.Contains(m[1], "all seen") {
		t.Fatalf("the pages were not seen: %.400s\n%s", dom, log)
	}
	if found := strings.TrimSpace(strings.TrimSuffix(html.UnescapeString(m[1]), "all seen")); found != "" {
		t.Error(found)
	}
	if strings.Contains(log, "CONSOLE") {
		t.Errorf("the console says:\n%s", log)
	}
}

// A whole call prints on two pages at most.
func TestPagePrints(t *testing.T) {
	if testing.Short() {
		t.Skip("printing takes a browser")
	}
	r := pages(t)[1]
	var b bytes.Buffer
	if err := r.HTML(&b); err != nil {
		t.Fatal(err)
	}
	pdf := filepath.Join(t.TempDir(), "page.pdf")
	_, log := browser(t, written(t, "page.html", b.Bytes()), "--print-to-pdf="+pdf, "--no-pdf-header-footer")
	if strings.Contains(log, "CONSOLE") {
		t.Errorf("the console says:\n%s", log)
	}
	data, err := os.ReadFile(pdf)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(regexp.MustCompile(`/Type\s*/Page[^s]`).FindAll(data, -1)); n < 1 || n > 2 {
		t.Errorf("it prints on %d pages", n)
	}
	if dir := os.Getenv("KEEP_PAGES"); dir != "" { // to be looked at
		_ = os.WriteFile(filepath.Join(dir, "whole.html"), b.Bytes(), 0o644)
		_ = os.WriteFile(filepath.Join(dir, "whole.pdf"), data, 0o644)
	}
}

// The page asks for nothing, whatever a browser would do: no address stands in
// it but the empty icon.
func TestPageNamesNoAddress(t *testing.T) {
	var b bytes.Buffer
	if err := openY(t).HTML(&b); err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`(?:href|src|url|action)\s*[=(]\s*["']?([^"'\s>)]*)`).FindAllStringSubmatch(b.String(), -1) {
		if m[1] != "data:," && !strings.Contains(m[0], "src=x") { // the note's own, which is text
			t.Errorf("the page names %q", m[0])
		}
	}
}
