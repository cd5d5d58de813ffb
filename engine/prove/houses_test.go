package prove

import (
	"flag"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"stepdown/cautions"
	"stepdown/engine/caution"
	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/tree"
	"stepdown/trees"
)

var (
	flagTrees     = flag.String("trees", "", "a directory of trees over the embedded ones")
	flagEquipment = flag.String("equipment", "", "one equipment for TestTable")
	flagComplaint = flag.String("complaint", "", "one complaint for TestTable")
	flagAudience  = flag.String("audience", "tech", "the audience for TestTable")
	flagFault     = flag.String("fault", "", "one fault for TestTable, with its trail")
	flagDraws     = flag.Int("houses", 1, "how many draws TestTable tries: nominal, then corners")
)

// embedded is the book of the embedded trees, or of those a flag lays over
// them.
func embedded(t testing.TB) *session.Book {
	t.Helper()
	var over []fs.FS
	if *flagTrees != "" {
		over = append(over, os.DirFS(*flagTrees))
	}
	var base fs.FS = trees.FS
	if _, err := fs.Stat(base, "findings.yaml"); err != nil {
		base = synthetic()
		over = append([]fs.FS{trees.FS}, over...)
	}
	lib, problems := tree.Load(base, over...)
	if len(problems) > 0 {
		t.Skipf("the embedded trees do not load:\n%s", problems.Render(10))
	}
	texts, problems := caution.Load(cautions.FS)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return &session.Book{Trees: lib, Cautions: texts}
}

func catalog(t testing.TB) *circuit.Catalog {
	t.Helper()
	sub, err := fs.Sub(trees.FS, "equipment")
	if err != nil {
		t.Fatal(err)
	}
	c, problems := circuit.Load(sub)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return c
}

// TestTable prints, for one complaint, which finding each fault comes to. It is
// a working table for whoever writes trees, and checks nothing by itself:
//
//	go test ./engine/prove -run TestTable -v -complaint no-cooling -equipment cool-gas -audience tech -houses 5
func TestTable(t *testing.T) {
	if *flagComplaint == "" {
		t.Skip("no -complaint")
	}
	book, cat := embedded(t), catalog(t)
	c, err := house.ParseComplaint(*flagComplaint)
	if err != nil {
		t.Fatal(err)
	}
	who, err := house.ParseAudience(*flagAudience)
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range cat.IDs() {
		if *flagEquipment != "" && id.String() != *flagEquipment || !fits(book.Trees.Trees[c], id) {
			continue
		}
		for i, d := range houses(cat.Equipment(id)) {
			table(t, book, d, c, who, i)
		}
	}
}

func houses(e *circuit.Equipment) []circuit.Draw {
	all := append([]circuit.Draw{e.Nominal()}, e.Corners()...)
	return all[:min(*flagDraws, len(all))]
}

func fits(t *tree.Tree, e house.Equipment) bool {
	if t == nil {
		return false
	}
	for _, f := range t.Fits {
		if f == e {
			return true
		}
	}
	return false
}

func table(t *testing.T, book *session.Book, d circuit.Draw, c house.Complaint, who house.Audience, n int) {
	fmt.Printf("\n%s, %s, %s, house %d\n", d.Equipment.ID, c, who, n)
	bench, err := circuit.NewBench(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range d.Equipment.Faults() {
		if *flagFault != "" && f.String() != *flagFault {
			continue
		}
		h, err := bench.House(f)
		if err != nil {
			t.Fatal(err)
		}
		shown := Shows(book, c, h)
		for _, base := range []house.Base{house.BaseExposed, house.BaseCovered} {
			h.Reset()
			facts := h.Draw().Facts()
			facts.Base, facts.Meter = base, house.MeterBoth
			trail, err := Simulate(book, who, &Caller{House: h, Facts: facts, Complaint: c})
			if err != nil {
				t.Errorf("%s %s: %v", d.Equipment.ID, f, err)
				continue
			}
			right := "wrong"
			switch {
			case !shown:
				right = "(does not show it)"
			case trail.End.ID == house.FindingOf(f, d.Equipment.ID):
				right = "right"
			case trail.End.ID == house.Undecided:
				right = "open"
				for _, x := range trail.End.Faults {
					if x == f {
						right = fmt.Sprintf("open, among %d", len(trail.End.Faults))
					}
				}
			}
			fmt.Printf("  %-26s %-8s -> %-26s %s\n", f, base, trail.End.ID, right)
			if *flagFault != "" || right == "wrong" {
				fmt.Println("    " + strings.Join(lines(trail), "\n    "))
			}
		}
	}
}

func lines(trail *Trail) []string {
	var out []string
	for _, a := range trail.Asked {
		words := []string{a.Step + ":"}
		for i, p := range a.Probes {
			switch {
			case p.IsLook():
				words = append(words, p.Look.String(), p.Look.AnswerID(a.Answer))
			case a.Readings[i].Missing:
				words = append(words, p.String(), "-")
			case a.Readings[i].OL:
				words = append(words, p.String(), "OL")
			default:
				words = append(words, p.String(), fmt.Sprintf("%.2f", a.Readings[i].Value))
			}
		}
		out = append(out, strings.Join(words, " ")+"   ["+a.Setup.String()+"]")
	}
	return out
}

// sequential leaves a test out of a short run, which is the race detector's:
// nothing in it happens at the same time as anything else.
func sequential(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("one thing after another")
	}
}
