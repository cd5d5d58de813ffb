package main

import (
	"stepdown/engine/chat"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/worksheet"
)

// expectHere says what a sound house of this equipment shows where the open
// question asks, a line each; nothing where it asks for no probe.
func expectHere(talk chat.Conversation) []string {
	q, open := talk.Open()
	if !open || q.Ask == nil || q.Ask.House == nil {
		return nil
	}
	id := talk.Facts().Equipment
	if id == house.NoEquipment || id.Handling() != house.Modelled {
		return []string{"That depends on the equipment, which is not known."}
	}
	lines, err := expected(id, q.Ask)
	if err != nil {
		return []string{"The model has no answer here: " + err.Error() + "."}
	}
	return lines
}

func expected(id house.Equipment, ask *session.Ask) ([]string, error) {
	e, err := loadEquipment(id.String())
	if err != nil {
		return nil, err
	}
	setup, o := ask.House.Setup, worksheet.Options{Draws: 10, Seed: 1}
	if ask.Kind == session.AskLook {
		seen, err := worksheet.Sight(e, setup, ask.Look, o)
		return []string{seen.String()}, err
	}
	var probes []house.Probe
	for _, p := range ask.Pairs {
		if ask.Quantity == quantity.Current {
			probes = append(probes, house.Clamp(p.Conductor))
			continue
		}
		probes = append(probes, house.Measure(ask.Quantity, p.Red, p.Black, ask.At))
	}
	lines, err := worksheet.Readings(e, setup, probes, o)
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = l.String()
	}
	return out, err
}
