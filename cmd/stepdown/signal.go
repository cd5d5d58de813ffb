package main

import (
	"os"
	"os/signal"
	"syscall"
)

// onSignal leaves in order when the process is asked to go: the terminal as it
// was, and the way back said. Every answer is on disk already.
func (w world) onSignal(d *desk, call string) {
	asked := make(chan os.Signal, 1)
	signal.Notify(asked, os.Interrupt, syscall.SIGTERM)
	go func() {
		got := <-asked
		d.close()
		if call != "" {
			w.say("\nkept; go on with: stepdown resume %s", call)
		}
		if got == syscall.SIGTERM {
			os.Exit(exitTerminated)
		}
		os.Exit(exitInterrupt)
	}()
}
