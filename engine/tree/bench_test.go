package tree

import (
	"os"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

func BenchmarkLoad(b *testing.B) {
	files := os.DirFS("testdata/base")
	b.ReportAllocs()
	for b.Loop() {
		if _, problems := Load(files); len(problems) > 0 {
			b.Fatal(problems)
		}
	}
}

func BenchmarkHeadings(b *testing.B) {
	files := os.DirFS("testdata/base")
	b.ReportAllocs()
	for b.Loop() {
		if _, problems := Headings(files); len(problems) > 0 {
			b.Fatal(problems)
		}
	}
}

func BenchmarkDecide(b *testing.B) {
	lib := base(b)
	s := step(b, lib, house.NoCooling, "call-at-board")
	e := s.Tree.NewEnv()
	b.ReportAllocs()
	for b.Loop() {
		if e.ReadPair(s, 0, quantity.Of(26.8)) != nil || e.ReadPair(s, 1, quantity.Of(26.8)) != nil {
			b.Fatal("refused")
		}
		if _, branch, err := s.Decide(e); err != nil || branch != 1 {
			b.Fatal(branch, err)
		}
	}
}

// BenchmarkRun is Decide by the conditions' programs alone.
func BenchmarkRun(b *testing.B) {
	lib := base(b)
	s := step(b, lib, house.NoCooling, "call-at-board")
	e := s.Tree.NewEnv()
	if e.ReadPair(s, 0, quantity.Of(26.8)) != nil || e.ReadPair(s, 1, quantity.Of(26.8)) != nil {
		b.Fatal("refused")
	}
	b.ReportAllocs()
	for b.Loop() {
		if branch, err := s.run(e); err != nil || branch != 1 {
			b.Fatal(branch, err)
		}
	}
}
