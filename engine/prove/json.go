package prove

import (
	"encoding/json"
	"io"
	"math"

	"stepdown/engine/house"
)

// WriteJSON writes the report as one JSON object. Words are the vocabulary's
// own, volts are rms; a list is never null.
func (r *Report) WriteJSON(to io.Writer) error {
	out := map[string]any{
		"proven": !r.Failed(), "problems": r.problemsJSON(), "counterexamples": r.callsJSON(),
		"trees": r.Trees, "steps": r.Steps,
		"branches": map[string]int{"steps": r.Branches.Steps, "branches": r.Branches.Branches, "cells": r.Branches.Cells},
		"edges":    map[string]any{"all": r.Edges, "taken": r.Edges - r.EdgesTwice - r.untakenEdges(), "taken-twice-wrong": r.EdgesTwice, "untaken": r.untakenJSON()},
		"cost":     r.costJSON(), "matrix": r.matrixJSON(),
	}
	if s := r.Safety; s != nil {
		out["safety"] = map[string]int{"states": s.States, "actions": s.Actions, "unsafe": len(s.Unsafe)}
	}
	if t := r.Physics; t != nil {
		out["calls"] = t.json()
	}
	if r.whole() {
		out["without-tree"] = map[string]any{"complaints": idsOf(r.Treeless), "equipment": idsOf(r.withoutTrees()), "hidden": hiddenJSON(r.Hidden)}
	}
	enc := json.NewEncoder(to)
	enc.SetEscapeHTML(false)
	return enc.Encode(out)
}

func (r *Report) problemsJSON() []map[string]any {
	out := []map[string]any{}
	for _, p := range r.Problems {
		out = append(out, map[string]any{"file": p.Pos.File, "line": p.Pos.Line, "col": p.Pos.Col, "code": p.Code, "message": p.Message, "hint": p.Hint})
	}
	return out
}

func (r *Report) callsJSON() []map[string]any {
	out := []map[string]any{}
	for _, c := range r.Calls {
		out = append(out, map[string]any{"code": c.Code, "file": c.Problem.Pos.File, "line": c.Problem.Pos.Line, "equipment": c.Equipment.String(),
			"house": c.House, "fault": c.Fault.String(), "complaint": c.Complaint.String(), "audience": c.Audience.String(), "slip": c.Slip,
			"finding": string(c.Finding), "best": idsOf(c.Best), "left": idsOf(c.Left), "count": c.Count, "faults": idsOf(c.Faults), "replay": c.Replay})
	}
	return out
}

func (t *Tally) json() map[string]any {
	by := func(n [3]int) map[string]int {
		out := map[string]int{}
		for _, who := range house.Audiences() {
			out[who.String()] = n[who]
		}
		return out
	}
	out := map[string]any{"houses": t.Houses, "as-asked": by(t.Calls), "all": t.Variants, "shown": by(t.Shown), "not-shown": t.Quiet,
		"at-s": by(t.AtBest), "above-s-because": by(t.Because), "above-s": t.Wider, "excess": by(t.Excess), "missed": t.Missed,
		"thermostats-condemned": t.Condemned, "parts-blamed": t.Blamed, "unable-at-s": t.UnableRight, "unable-above-s": t.UnableWide,
		"thin-margins": t.Thin, "margin-volts": nil}
	if !math.IsInf(t.MarginVolts, 1) {
		out["margin-volts"] = t.MarginVolts
	}
	return out
}

func (r *Report) untakenJSON() []map[string]any {
	out := []map[string]any{}
	for _, u := range r.Untaken {
		out = append(out, map[string]any{"step": u.Step, "edges": u.Edges, "why": u.Why()})
	}
	return out
}

func hiddenJSON(hidden map[house.Fault]string) map[string]string {
	out := map[string]string{}
	for f, why := range hidden {
		out[f.String()] = why
	}
	return out
}

func (r *Report) costJSON() []map[string]any {
	out := []map[string]any{}
	spent := func(s Spent) map[string]float64 {
		return map[string]float64{"readings": s.Readings, "minutes": s.Minutes}
	}
	for _, c := range r.Cost {
		out = append(out, map[string]any{"complaint": c.Complaint.String(), "equipment": c.Equipment.String(), "faults": c.Faults,
			"tree": spent(c.Tree), "best": spent(c.Best), "best-is-optimum": c.Exact, "bound-readings": c.Bound,
			"half-split": spent(c.Split), "chart": spent(c.Chart),
			"best-any-house": spent(c.AnyBest), "best-any-house-is-optimum": c.AnyExact, "chart-any-house": spent(c.AnyChart)})
	}
	return out
}

func (r *Report) matrixJSON() []map[string]any {
	out := []map[string]any{}
	for _, m := range r.Matrix {
		out = append(out, map[string]any{"equipment": m.Equipment.String(), "fault": m.Fault.String(), "complaints": idsOf(m.Complaints)})
	}
	return out
}
