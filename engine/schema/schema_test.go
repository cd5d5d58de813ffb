package schema_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"stepdown/cautions"
	"stepdown/engine/caution"
	"stepdown/engine/chat"
	"stepdown/engine/house"
	"stepdown/engine/letter"
	"stepdown/engine/schema"
	"stepdown/engine/session"
	"stepdown/engine/source"
	"stepdown/engine/tree"
	"stepdown/trees"
)

func Example() {
	fmt.Println(schema.Title("tree"))
	_, err := schema.Text("tre")
	fmt.Println(err)
	// Output:
	// A complaint's decision tree
	// unknown schema "tre"; did you mean "tree"?
}

// compiled is a schema, read as an outside library reads it.
func compiled(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	text, err := schema.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("urn:stepdown:test", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("urn:stepdown:test")
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return s
}

// plain is a YAML file as a JSON reader sees it: an unquoted number is one.
func plain(v *source.Value) any {
	switch v.Kind {
	case source.Scalar:
		if x, err := strconv.ParseFloat(v.Text, 64); err == nil && !v.Quoted() {
			return x
		}
		return v.Text
	case source.List:
		out := []any{}
		for _, i := range v.Items(source.NewReporter()) {
			out = append(out, plain(i))
		}
		return out
	case source.Map:
		out := map[string]any{}
		for _, e := range v.Entries(source.NewReporter()) {
			out[e.Key.Text] = plain(e.Value)
		}
		return out
	}
	return nil
}

func yaml(t *testing.T, files fs.FS, name string) any {
	t.Helper()
	data, err := fs.ReadFile(files, name)
	if err != nil {
		t.Fatal(err)
	}
	r := source.NewReporter()
	v := source.Parse(name, data, r)
	if v == nil {
		t.Fatalf("%s cannot be parsed", name)
	}
	return plain(v)
}

// schemaOf is the schema for a built-in file.
func schemaOf(name string) string {
	switch name {
	case "weights.yaml", "findings.yaml", "limits.yaml":
		return strings.TrimSuffix(name, ".yaml")
	case "equipment/values.yaml":
		return "values"
	}
	if strings.HasPrefix(name, "equipment/") {
		return "equipment"
	}
	return "tree"
}

// Every file built into the program holds against its schema.
func TestBuiltInFiles(t *testing.T) {
	all := map[string]*jsonschema.Schema{}
	for _, n := range schema.Names() {
		all[n] = compiled(t, n)
	}
	n := 0
	check := func(files fs.FS, pattern string, of func(string) string) {
		names, err := fs.Glob(files, pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			s := of(name)
			n++
			if err := all[s].Validate(yaml(t, files, name)); err != nil {
				t.Errorf("%s against %s: %#v", name, s, err)
			}
		}
	}
	check(trees.FS, "*.yaml", schemaOf)
	check(trees.FS, "equipment/*.yaml", schemaOf)
	check(cautions.FS, "*.yaml", func(string) string { return "caution" })
	if n < 20 {
		t.Errorf("only %d files were held against a schema", n)
	}
}

// The example tree of the developers' page is one too.
func TestExampleTree(t *testing.T) {
	data, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, text, ok := strings.Cut(string(data), "```yaml\n")
	text, _, ok2 := strings.Cut(text, "```")
	if !ok || !ok2 {
		t.Fatal("there is no example")
	}
	text = strings.ReplaceAll(text, "\n   ", "\n")
	r := source.NewReporter()
	v := source.Parse("example.yaml", []byte(strings.TrimPrefix(text, "   ")), r)
	if v == nil {
		t.Fatal("the example cannot be parsed")
	}
	if err := compiled(t, "tree").Validate(plain(v)); err != nil {
		t.Errorf("%#v", err)
	}
}

// Every example of a thermostat swap is one; a file with a mistake is none.
func TestSwaps(t *testing.T) {
	s, files := compiled(t, "rewire"), os.DirFS("../../testdata/rewire")
	for pattern, holds := range map[string]bool{"*.yaml": true, "bad/words.yaml": false, "bad/missing.yaml": false} {
		names, err := fs.Glob(files, pattern)
		if err != nil || len(names) == 0 {
			t.Fatal(pattern, err)
		}
		for _, name := range names {
			if err := s.Validate(yaml(t, files, name)); (err == nil) != holds {
				t.Errorf("%s holds is %v: %v", name, err == nil, err)
			}
		}
	}
}

// The colours a swap may name are those known.
func TestSwapColours(t *testing.T) {
	text, err := schema.Text("rewire")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range letter.Jackets {
		if !strings.Contains(text, strconv.Quote(c)) {
			t.Errorf("no colour %q", c)
		}
	}
}

// A report as it is written holds against its schema.
func TestReport(t *testing.T) {
	data, err := os.ReadFile("../report/testdata/open-y.json")
	if err != nil {
		t.Fatal(err)
	}
	validJSON(t, compiled(t, "report"), string(data))
}

// Every reply there is, and lines that are none.
func TestChatLines(t *testing.T) {
	in := compiled(t, "chat-in")
	for _, line := range []string{
		`{"values":{"yc":0.1,"rc":26.8}}`, `{"values":{"k":"OL"},"re":3}`, `{"values":{"k":null}}`, `{"answer":"lit"}`, `{"text":"no cooling"}`,
		`{"done":true}`, `{"acknowledge":"lockout"}`, `{"unable":true}`, `{"note":"x"}`, `{"command":"back"}`,
		`{"measure":{"quantity":"volts","red":"R","black":"C","at":"thermostat"},"value":26.8,"setup":{"mode":"cool","calling":"yes"}}`,
		`{"look":"display","answer":"lit"}`,
	} {
		validJSON(t, in, line)
	}
	for _, line := range []string{`{}`, `{"done":false}`, `{"values":{}}`, `{"answer":"lit","done":true}`, `{"command":"go"}`, `{"moon":1}`, `{"values":{"a":"high"}}`} {
		if err := in.Validate(decode(t, line)); err == nil {
			t.Errorf("%s holds", line)
		}
	}
}

// Whole conversations, answered at random: each line out and each line in.
func TestConversations(t *testing.T) {
	in, out := compiled(t, "chat-in"), compiled(t, "chat-out")
	set, problems := caution.Load(cautions.FS)
	lib, more := tree.Load(trees.FS)
	if err := append(problems, more...).Err(); err != nil {
		t.Fatal(err)
	}
	book := &session.Book{Trees: lib, Cautions: set, Match: cooling{}, Explain: cooling{}}
	types := map[string]int{}
	for seed := range uint64(90) {
		rng := rand.New(rand.NewPCG(seed, 7))
		held := chat.Hold(book, session.State{})
		o := chat.Options{Call: "k3", Version: "0.1.0"}
		o.Hooks.Suspects = func() (session.Explanation, bool) {
			x := book.Suspects(held.State())
			return x, len(x.Left) > 0
		}
		w := chat.NewWire(held, o)
		open := session.Opening{Audience: house.Audiences()[seed%3], Equipment: "cool-gas"}
		lines := w.Begin(session.Event{Kind: session.Start, Open: &open})
		for n := 0; n < 150 && len(lines) > 0; n++ {
			reply := ""
			for line := range bytes.Lines(lines) {
				validJSON(t, out, string(line))
				var l outLine
				if err := json.Unmarshal(line, &l); err != nil {
					t.Fatal(err)
				}
				types[l.Type]++
				if r := l.reply(rng); r != "" {
					reply = r
				}
			}
			if reply == "" {
				break // the end
			}
			validJSON(t, in, reply)
			if n%17 == 3 { // what does not hold brings a problem
				validJSON(t, out, string(w.OneShot(`{"moon":1}`)))
				types["problem"]++
			}
			if n%17 == 9 { // at any question one may ask what is left
				for line := range bytes.Lines(w.OneShot(`{"command":"suspects"}`)) {
					validJSON(t, out, string(line))
					var l outLine
					if err := json.Unmarshal(line, &l); err != nil {
						t.Fatal(err)
					}
					types[l.Type]++
				}
			}
			lines = w.OneShot(reply)
		}
	}
	for _, want := range []string{"hello", "ask", "do", "caution", "tell", "suspects", "finding", "problem", "end"} {
		if types[want] == 0 {
			t.Errorf("no %s line was written: %v", want, types)
		}
	}
}

// cooling takes all words for no-cooling, and suspects one fault.
type cooling struct{}

func (cooling) Match(string) session.Match {
	return session.Match{Trees: []house.Complaint{house.NoCooling}, Sure: true}
}

func (cooling) Explain(house.Facts, house.Complaint, []session.Seen) session.Explanation {
	return session.Explanation{Left: []session.Suspect{{Fault: house.OpenY, Probability: 0.5}}, RuledOut: 3}
}

type outLine struct {
	Type, Kind, Quantity, Acknowledge string
	Pairs                             []struct{ Name string }
	Answers                           []struct{ ID string }
}

// reply answers a question at random, empty where nothing is asked.
func (l outLine) reply(rng *rand.Rand) string {
	switch {
	case l.Type == "do":
		return `{"done":true}`
	case l.Type == "caution":
		return fmt.Sprintf(`{"acknowledge":%q}`, l.Acknowledge)
	case l.Type != "ask":
		return ""
	case l.Kind == "text":
		return `{"text":"it does not cool"}`
	case l.Kind == "measure":
		var values []string
		for _, p := range l.Pairs {
			values = append(values, fmt.Sprintf("%q:%s", p.Name, []string{"0", "26.8", "null"}[rng.IntN(3)]))
		}
		return `{"values":{` + strings.Join(values, ",") + `}}`
	case rng.IntN(8) == 0 && l.Kind == "look":
		return `{"unable":true}`
	}
	n := rng.IntN(len(l.Answers))
	if l.Answers[0].ID == "no" {
		n = 0 // no emergency
	}
	return fmt.Sprintf(`{"answer":%q}`, l.Answers[n].ID)
}

// A tree with a slip in it does not hold: the word is not in the closed list,
// a key is not known, a target leads nowhere.
func TestSlipsAreFound(t *testing.T) {
	s := compiled(t, "tree")
	good, err := fs.ReadFile(trees.FS, "no-cooling.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, slip := range [][2]string{{"tree: no-cooling", "tree: no-coling"}, {"look: display", "look: dysplay"}, {"why:", "because-of:"},
		{"finding stat-setting", "finding stat-seting"}, {"at: thermostat", "at: wall"}, {"fits: [", "fits: [moon, "}} {
		text := strings.Replace(string(good), slip[0], slip[1], 1)
		if text == string(good) {
			t.Fatalf("there is no %q in the tree", slip[0])
		}
		r := source.NewReporter()
		v := source.Parse("slip.yaml", []byte(text), r)
		if v == nil {
			t.Fatal(slip)
		}
		if err := s.Validate(plain(v)); err == nil {
			t.Errorf("%q for %q holds", slip[1], slip[0])
		}
	}
}

func decode(t *testing.T, text string) any {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return v
}

func validJSON(t *testing.T, s *jsonschema.Schema, text string) {
	t.Helper()
	if err := s.Validate(decode(t, text)); err != nil {
		t.Errorf("%.300s\n%#v", text, err)
	}
}
