package main

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"stepdown": main})
}

// TestScripts runs whole calls as people and programs hold them. Each script
// of testdata/script is a page of a manual; refresh what it expects with
// -update.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Files:               scripts(t),
		UpdateScripts:       *update,
		RequireUniqueNames:  true,
		RequireExplicitExec: false,
		Setup: func(e *testscript.Env) error {
			e.Values[lastCall] = &line{}
			e.Values[heldLock] = new(*lock)
			e.Setenv("XDG_STATE_HOME", e.WorkDir+"/state")
			e.Setenv("LC_ALL", "C.UTF-8")
			e.Setenv("NO_COLOR", "")
			return os.Mkdir(e.WorkDir+"/state", 0o700)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"call":    callCmd,
			"finding": findingCmd,
			"ended":   endedCmd,
			"exits":   exitsCmd,
			"hold":    holdCmd,
			"release": releaseCmd,
			"tear":    tearCmd,
			"change":  changeCmd,
		},
	})
}

// shortScripts are those of a short run, which the race detector makes slow: one
// of each thing a call does at the same time as another.
var shortScripts = []string{"a-first-call.txtar", "c-thinks-along.txtar", "json.txtar", "keep-and-resume.txtar", "without-a-disk.txtar", "prove.txtar"}

func scripts(t *testing.T) []string {
	all, err := filepath.Glob("../../testdata/script/*.txtar")
	if err != nil || len(all) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	if !testing.Short() {
		return all
	}
	return slices.DeleteFunc(all, func(name string) bool { return !slices.Contains(shortScripts, filepath.Base(name)) })
}
