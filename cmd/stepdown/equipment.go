package main

import (
	"io/fs"
	"strings"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/trees"
)

// equipmentFiles are the modelled equipment's own files.
func equipmentFiles() fs.FS {
	files, err := fs.Sub(trees.FS, "equipment")
	if err != nil {
		panic(err) // the folder is built in
	}
	return files
}

// loadCatalog loads the modelled equipment.
func loadCatalog() (*circuit.Catalog, error) {
	catalog, problems := circuit.Load(equipmentFiles())
	return catalog, problems.Err()
}

// loadEquipment loads one equipment by its id.
func loadEquipment(id string) (*circuit.Equipment, error) {
	const hint = "name one with --equipment, such as --equipment cool-gas; stepdown help expect lists them"
	if id == "" {
		return nil, usage(hint, "no equipment is named")
	}
	e, err := house.ParseEquipment(id)
	if err != nil {
		return nil, usage(hint, "%v", err)
	}
	if e.Handling() != house.Modelled {
		return nil, usage(hint, "%s (%s) is recognised but not modelled", e, e.Title())
	}
	catalog, err := loadCatalog()
	if err != nil {
		return nil, err
	}
	return catalog.Equipment(e), nil
}

// equipmentList is every modelled equipment, a line each.
func equipmentList() string {
	var b strings.Builder
	for _, e := range house.Equipments() {
		b.WriteString("  " + e.String() + strings.Repeat(" ", max(1, 20-len(e.String()))) + e.Title() + "\n")
	}
	return b.String()
}

// parseSetup reads key=value words over the house as its people left it.
func parseSetup(words []string) (house.Setup, error) {
	const hint = "a setup is written as in: mode=cool calling=yes jumper=R,Y"
	var p house.Partial
	for _, word := range words {
		name, value, ok := strings.Cut(word, "=")
		if !ok {
			return house.Setup{}, usage(hint, "%q is no key=value", word)
		}
		k, err := house.ParseKey(name)
		if err != nil {
			return house.Setup{}, usage("one of "+strings.Join(list(house.Keys()), ", "), "%v", err)
		}
		values := []string{value}
		if k.IsList() {
			values = strings.FieldsFunc(value, func(r rune) bool { return r == ',' })
		}
		if err := p.Set(k, values); err != nil {
			hint := hint
			if takes := k.Takes(); len(takes) > 0 {
				hint = k.String() + " takes " + strings.Join(takes, ", ")
			}
			return house.Setup{}, usage(hint, "%s: %v", k, err)
		}
	}
	return p.Over(house.DefaultSetup()), nil
}
