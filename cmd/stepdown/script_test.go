package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
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

// longScripts hold dozens of calls each; a short run leaves them out.
var longScripts = []string{"no-cooling-", "no-heat-", "dark-display-", "chatter-", "fan-dead-", "heat-always-", "outdoor-always-",
	"fan-always-cool-electric", "aux-", "wrong-way", "after-swap", "others", "drill", "calls"}

func scripts(t *testing.T) []string {
	all, err := filepath.Glob("../../testdata/script/*.txtar")
	if err != nil || len(all) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	if !testing.Short() {
		return all
	}
	return slices.DeleteFunc(all, func(name string) bool {
		return slices.ContainsFunc(longScripts, func(long string) bool { return strings.HasPrefix(filepath.Base(name), long) })
	})
}
