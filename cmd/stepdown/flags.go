package main

import (
	"errors"
	"fmt"
	"strings"

	"stepdown/engine/house"
)

// word is the failure of a flag whose value is in no list.
func word(err error, flag, takes string) error {
	var unknown *house.UnknownWord
	if !errors.As(err, &unknown) {
		return usage(flag+" takes "+takes, "%s after %s", err, flag)
	}
	hint := flag + " takes " + takes
	if unknown.Nearest != "" {
		hint = "did you mean " + flag + " " + unknown.Nearest + "?"
	}
	return usage(hint, "unknown %s %q after %s", unknown.Kind, unknown.Word, flag)
}

// equipmentWords lists the kinds of system, for a hint.
func equipmentWords() string {
	var ids []string
	for _, e := range house.Equipments() {
		ids = append(ids, e.String())
	}
	return fmt.Sprintf("one of %s", strings.Join(ids, ", "))
}
