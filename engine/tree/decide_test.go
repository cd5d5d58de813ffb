package tree

import (
	"errors"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

func TestDecide(t *testing.T) {
	lib := base(t)
	board := step(t, lib, house.NoCooling, "call-at-board")
	coil := step(t, lib, house.NoCooling, "coil")
	volts := func(yc, rc quantity.Reading) *Env {
		e := board.Tree.NewEnv()
		for name, r := range map[string]quantity.Reading{"yc": yc, "rc": rc} {
			if err := e.Read(board, name, r); err != nil {
				t.Fatal(err)
			}
		}
		return e
	}
	for _, c := range []struct {
		name   string
		step   *Step
		env    *Env
		coil   quantity.Reading
		branch int
		to     string
	}{
		{"no power", board, volts(quantity.Of(0), quantity.Of(20.399)), quantity.Reading{}, 0, "tree no-control-power"},
		{"at the limit", board, volts(quantity.Of(20.4), quantity.Of(20.4)), quantity.Reading{}, 1, "step coil"},
		{"no call", board, volts(quantity.Of(0.1), quantity.Of(26.8)), quantity.Reading{}, 2, "finding open-y"},
		{"one cannot", board, volts(quantity.Reading{Missing: true}, quantity.Of(26.8)), quantity.Reading{}, BranchUnable, "finding undecided"},
		{"a good coil", coil, volts(quantity.Of(26), quantity.Of(26)), quantity.Of(10), 1, "step amps"},
		{"the reading before decides", coil, volts(quantity.Of(2), quantity.Of(26)), quantity.Of(10), 2, "finding undecided"},
		{"OL", coil, volts(quantity.Of(26), quantity.Of(26)), quantity.Reading{OL: true}, BranchOL, "finding contactor-coil-open"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.step == coil {
				if err := c.env.Read(coil, "coil", c.coil); err != nil {
					t.Fatal(err)
				}
			}
			to, branch, err := c.step.Decide(c.env)
			if err != nil || branch != c.branch || to.String() != c.to {
				t.Errorf("branch %d to %s (%v), want %d to %s", branch, to, err, c.branch, c.to)
			}
		})
	}
}

func TestDecideLookAndAsk(t *testing.T) {
	lib := base(t)
	s := step(t, lib, house.NoCooling, "display")
	e := s.Tree.NewEnv()
	for i, id := range []string{"blank", "lit", "low-battery", "waiting"} {
		a, err := house.Display.ParseAnswer(id)
		if err != nil {
			t.Fatal(err)
		}
		if err := e.See(s, a); err != nil {
			t.Fatal(err)
		}
		if _, branch, err := s.Decide(e); err != nil || branch != i {
			t.Errorf("%s: branch %d, %v", id, branch, err)
		}
	}
	ask := step(t, lib, house.NoCooling, "supply")
	if to, branch, err := ask.Choose("battery"); err != nil || branch != 1 || to.Step.ID != "call-at-board" {
		t.Error(to, branch, err)
	}
	if _, _, err := ask.Choose("steam"); err == nil {
		t.Error("an answer that is none is taken")
	}
	if to, _, err := step(t, lib, house.DarkDisplay, "meter").Choose("both"); err != nil || to.String() != "tree no-control-power" {
		t.Error(to, err)
	}
}

// TestDecideRefuses are calls an interpreter must never make silently right.
func TestDecideRefuses(t *testing.T) {
	lib := base(t)
	board, coil := step(t, lib, house.NoCooling, "call-at-board"), step(t, lib, house.NoCooling, "coil")
	display, ask := step(t, lib, house.NoCooling, "display"), step(t, lib, house.NoCooling, "supply")
	e := board.Tree.NewEnv()
	for what, err := range map[string]error{
		"NaN":              e.Read(board, "rc", quantity.Of(math.NaN())),
		"infinite":         e.Read(board, "rc", quantity.Of(math.Inf(1))),
		"negative":         e.Read(board, "rc", quantity.Of(-1)),
		"OL on volts":      e.Read(board, "rc", quantity.Reading{OL: true}),
		"unknown name":     e.Read(board, "rx", quantity.Of(1)),
		"no such pair":     e.ReadPair(board, 2, quantity.Of(1)),
		"reading a look":   e.ReadPair(display, 0, quantity.Of(1)),
		"seeing a reading": e.See(board, 1),
		"no such answer":   e.See(display, 9),
		"another tree":     lib.Trees[house.DarkDisplay].NewEnv().Read(board, "rc", quantity.Of(1)),
		"nothing read":     second(board.Decide(e)),
		"nothing seen":     second(display.Decide(e)),
		"an ask":           second(ask.Decide(e)),
		"a look chosen":    second(display.Choose("lit")),
		"foreign env":      second(board.Decide(lib.Trees[house.DarkDisplay].NewEnv())),
	} {
		if err == nil {
			t.Errorf("%s: no error", what)
		}
	}
	// A reading that a condition needs from before is missing.
	if err := e.Read(coil, "coil", quantity.Of(10)); err != nil {
		t.Fatal(err)
	}
	if _, _, err := coil.Decide(e); err == nil || !strings.Contains(err.Error(), `"yc" was not read`) {
		t.Error(err)
	}
	e.Reset()
	if _, _, err := coil.Decide(e); err == nil || !strings.Contains(err.Error(), `"coil" was not read`) {
		t.Error(err)
	}
}

func second(_ Target, _ int, err error) error { return err }

// TestGapsAndOverlaps: no branch and two branches are errors that say on what.
func TestGapsAndOverlaps(t *testing.T) {
	for when, want := range map[string]string{
		"rc < 20": "no condition holds for rc 25",
		"rc > 20": "",
	} {
		lib, problems := condition("'" + when + "'")
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		s := step(t, lib, house.DarkDisplay, "board")
		e := s.Tree.NewEnv()
		for _, name := range []string{"rc", "r-w"} {
			if err := e.Read(s, name, quantity.Of(25)); err != nil {
				t.Fatal(err)
			}
		}
		_, _, err := s.Decide(e)
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", when, err, want)
		}
	}
	lib, problems := Load(os.DirFS("testdata/base"), with("no-control-power.yaml", strings.Replace(
		string(readBase(t, "no-control-power.yaml")), "sec >= control_min", "sec >= coil_min", 1)))
	if len(problems) != 1 || problems[0].Code != CodeUnit || lib != nil {
		t.Error(problems)
	}
	lib, problems = Load(os.DirFS("testdata/base"), with("no-control-power.yaml", strings.Replace(
		string(readBase(t, "no-control-power.yaml")), "{when: sec >= control_min,", "{because: for a test, when: sec >= 20,", 1)))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	s := step(t, lib, house.NoControlPower, "secondary")
	e := s.Tree.NewEnv()
	if err := e.Read(s, "sec", quantity.Of(20.1)); err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.Decide(e); err == nil || !strings.Contains(err.Error(), `both "sec < control_min" and "sec >= 20" hold for sec 20.1`) {
		t.Error(err)
	}
}

func TestAxes(t *testing.T) {
	lib := base(t)
	s := step(t, lib, house.NoCooling, "amps")
	axes := s.Axes()
	if len(axes) != 2 || axes[0].Name.ID != "rc" || axes[1].Name.ID != "iy" {
		t.Fatalf("%+v", axes)
	}
	if d := cmp.Diff([]float64{20, 100}, axes[0].Cuts); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]float64{0, 20, 60, 100, 200}, axes[0].Numbers); d != "" {
		t.Error(d)
	}
	c := s.Branches[0].When
	if d := cmp.Diff([]float64{0.1}, c.Cuts(axes[1].Name)); d != "" {
		t.Error(d)
	}
	if c.Program() == nil || len(c.Names()) != 2 || !slices.Equal(c.Names(), s.Uses()) {
		t.Error(c.Names())
	}
	if q := axes[1].Name.Quantity(); q != quantity.Current {
		t.Error(q)
	}
}

// TestTwoGoroutines share a library, each with an Env of its own.
func TestTwoGoroutines(t *testing.T) {
	lib := base(t)
	s := step(t, lib, house.NoCooling, "call-at-board")
	done := make(chan error)
	for range 2 {
		go func() {
			e := s.Tree.NewEnv()
			err := errors.Join(e.Read(s, "rc", quantity.Of(26)), e.Read(s, "yc", quantity.Of(0)))
			if err == nil {
				_, _, err = s.Decide(e)
			}
			done <- err
		}()
	}
	for range 2 {
		if err := <-done; err != nil {
			t.Error(err)
		}
	}
}
