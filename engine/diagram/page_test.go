package diagram_test

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

	"stepdown/engine/diagram"
)

// looker is a page around pictures: it writes down every text that leaves the
// picture or the room it was given, that lies on another, or that a line runs
// through, and everything a picture asks for.
const looker = `<!DOCTYPE html><meta charset="utf-8"><body><script>
const pictures = %s, out = [];
for (const [name, text] of Object.entries(pictures)) {
  document.body.innerHTML = text;
  const svg = document.querySelector('svg'), v = svg.viewBox.baseVal, boxes = [];
  for (const t of svg.querySelectorAll('text')) {
    const b = t.getBBox();
    if (b.x < 0 || b.y < 0 || b.x + b.width > v.width || b.y + b.height > v.height) out.push(name + ': outside the picture: ' + t.textContent);
    if (t.getComputedTextLength() > +t.dataset.room) out.push(name + ': wider than its room: ' + t.textContent);
    boxes.push([b, t.textContent]);
  }
  boxes.sort((a, b) => a[0].y - b[0].y);
  for (let i = 0; i < boxes.length; i++) for (let k = i + 1; k < boxes.length && boxes[k][0].y + 3 < boxes[i][0].y + boxes[i][0].height; k++) {
    const [a, s] = boxes[i], [b, r] = boxes[k];
    if (a.x + 1 < b.x + b.width && b.x + 1 < a.x + a.width) out.push(name + ': ' + s + ' lies on ' + r);
  }
  const cards = [...svg.querySelectorAll('rect.c')].map(r => r.getBBox());
  for (const l of svg.querySelectorAll('path.l')) {
    const b = l.getBBox();
    if (b.x + b.width > v.width || b.y + b.height > v.height) out.push(name + ': a line leaves the picture');
    for (const c of cards) if (b.x + 1 < c.x + c.width && b.x + b.width > c.x + 1 && b.y < c.y + c.height && b.y + b.height > c.y) out.push(name + ': a line runs through a card');
  }
}
for (const r of performance.getEntriesByType('resource')) out.push('asks for ' + r.name);
document.body.innerHTML = '<pre id="seen">' + out.map(s => s.replace(/[<&]/g, '.')).join('\n') + '\nall seen</pre>';
</script>`

var seen = regexp.MustCompile(`(?s)<pre id="seen">(.*?)</pre>`)

// In a browser every built-in tree's picture holds its words in their room.
func TestPicturesInABrowser(t *testing.T) {
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("chromium is not there; .ci/run installs it")
		}
		t.Skip("chromium is not there: the pictures are not looked at")
	}
	pictures := map[string]string{}
	for _, x := range library().InOrder() {
		var b strings.Builder
		if err := diagram.Of(x).SVG(&b); err != nil {
			t.Fatal(err)
		}
		pictures[x.ID.String()] = b.String()
	}
	list, err := json.Marshal(pictures)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "look.html")
	if err := os.WriteFile(file, fmt.Appendf(nil, looker, list), 0o600); err != nil {
		t.Fatal(err)
	}
	var out, log bytes.Buffer
	cmd := exec.Command(path, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
		"--user-data-dir="+t.TempDir(), "--enable-logging=stderr", "--host-resolver-rules=MAP * ~NOTFOUND", "--virtual-time-budget=20000", "--dump-dom", "file://"+file)
	cmd.Stdout, cmd.Stderr = &out, &log
	if err := cmd.Run(); err != nil {
		t.Fatalf("%v\n%s", err, log.String())
	}
	m := seen.FindStringSubmatch(out.String())
	if m == nil || !strings.Contains(m[1], "all seen") {
		t.Fatalf("the pictures were not seen: %.400s\n%s", out.String(), log.String())
	}
	if found := strings.TrimSpace(strings.TrimSuffix(html.UnescapeString(m[1]), "all seen")); found != "" {
		t.Error(found)
	}
	if strings.Contains(log.String(), "CONSOLE") {
		t.Errorf("the console says:\n%s", log.String())
	}
}
