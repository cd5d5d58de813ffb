// Command stepdown takes a heating or cooling complaint and a handful of meter
// readings, and steps down to the one part of the 24-volt control circuit that
// failed, or shows that the thermostat is not it.
//
//	stepdown                          start a call
//	stepdown resume                   go on with the call that was left
//	stepdown help                     every verb and flag
//
// All that touches files, the terminal, the clock and the exit code is here;
// the rest of the program is pure. A verb is one file, verb_NAME.go.
package main
