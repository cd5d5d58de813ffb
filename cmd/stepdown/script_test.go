package main

import (
	"os"
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
		Dir:                 "../../testdata/script",
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
