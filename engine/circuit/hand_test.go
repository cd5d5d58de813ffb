package circuit

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

const handDir = "../../testdata/circuit/hand"

// handDeck is one deck written by hand, as its header describes it.
type handDeck struct {
	file   string
	header map[string]string
}

func handDecks(t testing.TB) []handDeck {
	files, err := filepath.Glob(filepath.Join(handDir, "*", "*.cir"))
	if err != nil || len(files) == 0 {
		t.Fatal("no hand decks:", err)
	}
	var out []handDeck
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		name, _ := filepath.Rel(handDir, file)
		d := handDeck{file: filepath.ToSlash(name), header: map[string]string{}}
		for _, line := range strings.Split(string(data), "\n") {
			if key, value, ok := strings.Cut(strings.TrimPrefix(line, "* "), ":"); ok && strings.HasPrefix(line, "* ") {
				if _, have := d.header[key]; !have {
					d.header[key] = strings.TrimSpace(value)
				}
			}
		}
		out = append(out, d)
	}
	return out
}

// expected is what ngspice printed for each deck's reading.
func handExpected(t testing.TB) map[string]map[string]float64 {
	f, err := os.Open(filepath.Join(handDir, "expected.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	out := map[string]map[string]float64{}
	for sc := bufio.NewScanner(f); sc.Scan(); {
		cols := strings.Split(sc.Text(), "\t")
		v, err := strconv.ParseFloat(cols[len(cols)-1], 64)
		if err != nil {
			continue
		}
		if out[cols[0]] == nil {
			out[cols[0]] = map[string]float64{}
		}
		out[cols[0]][cols[1]] = v
	}
	return out
}

// pairs splits "key=value key=value".
func pairs(text string) [][2]string {
	var out [][2]string
	for _, word := range strings.Fields(text) {
		k, v, _ := strings.Cut(word, "=")
		out = append(out, [2]string{k, v})
	}
	return out
}

func handSetup(t testing.TB, text string) house.Setup {
	var p house.Partial
	for _, kv := range pairs(text) {
		key, err := house.ParseKey(kv[0])
		if err == nil {
			err = p.Set(key, strings.Split(kv[1], ","))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return p.Over(house.DefaultSetup())
}

// handDraw is the nominal house changed as a deck says.
func handDraw(t testing.TB, e *Equipment, text string) Draw {
	d := e.Nominal()
	number := func(v string, names ...string) {
		x, err := strconv.ParseFloat(v, 64)
		for _, name := range names {
			if err == nil {
				d, err = d.WithValue(name, x)
			}
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, kv := range pairs(text) {
		k, v := kv[0], kv[1]
		var err error
		switch k {
		case "float-in":
			d, err = d.With(FloatIn, v)
		case "sensing":
			d, err = d.With(Sensing, v)
		case "stat-supply":
			d, err = d.With(Supply, v)
		case "base-r":
			d, err = d.With(BaseR, v)
		case "leak-into":
			d, err = d.With(LeakInto, v)
		case "tap":
			d, err = d.With(TapWrong, map[string]string{"240/208": "up", "208/240": "down"}[v])
		case "letters":
			letters := "," + v + ","
			if strings.Contains(letters, ",L,") {
				d, err = d.With(FaultWire, "yes")
			}
			if !strings.Contains(letters, ",C,") {
				t.Fatal("a deck without a common is not read yet")
			}
		case "leak-ohms":
			number(v, "stat.leak-ohms")
		case "defrost-ohms":
			number(v, "defrost-control.ohms")
		case "overload-ohms":
			number(v, "fault.overload-ohms")
		case "weak":
			number(v, "fault.weak-times")
		case "fault-ohms":
			number(v, "fault.short-ohms", "fault.bridge-ohms", "fault.loose-ohms", "fault.shorted-coil-ohms")
		default:
			t.Fatalf("the deck's draw has an unknown key %q", k)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return d
}

func handProbe(t testing.TB, text string) house.Probe {
	words := strings.Fields(text) // volts A-B at place
	q, err := quantity.OfID(words[0])
	if err != nil {
		t.Fatal(err)
	}
	at, err := house.ParsePlace(words[3])
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range words[1] {
		if c != '-' {
			continue
		}
		red, err1 := house.ParseTerminal(words[1][:i])
		black, err2 := house.ParseTerminal(words[1][i+1:])
		if err1 == nil && err2 == nil {
			return house.Measure(q, red, black, at)
		}
	}
	t.Fatalf("no pair in %q", text)
	return house.Probe{}
}

func handHouse(t testing.TB, cat *Catalog, d handDeck, change func(*plan)) (*House, house.Setup) {
	id, err := house.ParseEquipment(d.header["equipment"])
	if err != nil {
		t.Fatal(err)
	}
	fault, err := house.ParseFault(d.header["fault"])
	if err != nil {
		t.Fatal(err)
	}
	b, err := newBench(handDraw(t, cat.Equipment(id), d.header["draw"]), change)
	if err != nil {
		t.Fatal(err)
	}
	h, err := b.House(fault)
	if err != nil {
		t.Fatal(err)
	}
	return h, handSetup(t, d.header["setup"])
}

// handDiffers compares one deck's readings with the model's. The decks and the
// model were made by different hands from the same vocabulary; they must agree
// within 2 %, or within 25 mV where a reading is only a drop in wires or a
// ghost on a loaded conductor, which the vocabulary leaves open.
func handDiffers(t testing.TB, h *House, s house.Setup, want map[string]float64) []string {
	var out []string
	for text, volts := range want {
		r, err := h.Exact(s, handProbe(t, text))
		if err != nil {
			out = append(out, fmt.Sprintf("%s: %v", text, err))
			continue
		}
		if math.Abs(r.Value-volts) > max(0.02*volts, 0.025) {
			out = append(out, fmt.Sprintf("%s: model %.4g V, deck %.4g V", text, r.Value, volts))
		}
	}
	return out
}

func TestHandDecks(t *testing.T) {
	cat := loadAll(t)
	expected := handExpected(t)
	readings := 0
	for _, d := range handDecks(t) {
		t.Run(d.file, func(t *testing.T) {
			want := expected[d.file]
			if len(want) == 0 {
				t.Fatal("no expected readings")
			}
			h, s := handHouse(t, cat, d, nil)
			for _, diff := range handDiffers(t, h, s, want) {
				t.Error(diff)
			}
			readings += len(want)
			for _, kv := range pairs(d.header["armatures"]) {
				part := map[string]string{"valve": "reversing-valve"}[kv[0]]
				if part == "" {
					part = kv[0]
				}
				if in := kv[1] == "pulled-in" || kv[1] == "closed"; in != h.in(part) {
					t.Errorf("%s: deck says %s", kv[0], kv[1])
				}
			}
			if blown := d.header["fuse"] == "blown"; blown != h.state.blown {
				t.Errorf("fuse: deck says %s", d.header["fuse"])
			}
		})
	}
	t.Logf("%d readings", readings)
}

func loadAll(t testing.TB) *Catalog {
	cat, problems := Load(os.DirFS("../../trees/equipment"))
	if len(problems) > 0 {
		t.Fatal(problems.Error())
	}
	return cat
}

// TestHandDecksInNgspice runs one deck of each equipment again: what expected.tsv
// holds is what the deck says, and nobody's copy of the model's answer.
func TestHandDecksInNgspice(t *testing.T) {
	path, expected := ngspice(t), handExpected(t)
	done := map[string]bool{}
	for _, d := range handDecks(t) {
		id := d.header["equipment"]
		if done[id] {
			continue
		}
		done[id] = true
		out, err := exec.Command(path, "-b", filepath.Join(handDir, d.file)).Output()
		if err != nil {
			t.Fatal(d.file, err)
		}
		printed := map[string]float64{}
		for line := range strings.Lines(string(out)) {
			if name, value, ok := strings.Cut(strings.TrimSpace(line), " = "); ok {
				if x, err := strconv.ParseFloat(value, 64); err == nil {
					printed[name] = x
				}
			}
		}
		want := expected[d.file]
		if len(printed) != len(want) {
			t.Errorf("%s prints %d readings, expected.tsv has %d", d.file, len(printed), len(want))
		}
		for text, volts := range want {
			words := strings.Fields(text)
			name := strings.ToLower(strings.ReplaceAll(words[3]+"_"+words[1], "-", "_"))
			// ngspice's own versions differ in the last of their digits.
			if x, ok := printed[name]; !ok || math.Abs(x-volts) > 1e-6*volts+1e-9 {
				t.Errorf("%s: %s: ngspice prints %v, expected.tsv has %v", d.file, text, x, volts)
			}
		}
	}
}
