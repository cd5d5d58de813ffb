package main

import (
	"path/filepath"
	"runtime"
)

// stateFolder is where calls are kept: $XDG_STATE_HOME/stepdown where that is
// an absolute path, else the platform's own place.
func (w world) stateFolder() (string, error) {
	if dir := w.env("XDG_STATE_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "stepdown"), nil
	}
	home := w.env("HOME")
	switch runtime.GOOS {
	case "windows":
		if dir := w.env("LocalAppData"); filepath.IsAbs(dir) {
			return filepath.Join(dir, "stepdown"), nil
		}
		home = w.env("USERPROFILE")
	case "darwin":
		if filepath.IsAbs(home) {
			return filepath.Join(home, "Library", "Application Support", "stepdown"), nil
		}
	}
	if !filepath.IsAbs(home) {
		return "", usage("set XDG_STATE_HOME to a folder of your own, as a full path", "there is no home folder to keep calls in")
	}
	return filepath.Join(home, ".local", "state", "stepdown"), nil
}
