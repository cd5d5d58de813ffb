package schema

import (
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/source"
)

//go:embed *.json
var files embed.FS

// common is the file of definitions that several schemas use.
const common = "common"

// Names lists the schemas.
func Names() []string {
	names, err := fs.Glob(files, "*.json")
	if err != nil {
		panic(err) // the pattern is ours
	}
	var out []string
	for _, n := range names {
		if n = strings.TrimSuffix(n, ".json"); n != common {
			out = append(out, n)
		}
	}
	return out
}

// Title is a schema's own title.
func Title(name string) string {
	doc, err := read(name)
	if err != nil {
		return ""
	}
	title, _ := doc["title"].(string)
	return title
}

// Text is a schema with everything it refers to in itself, indented.
func Text(name string) (string, error) {
	if !slices.Contains(Names(), name) {
		near, _ := source.Nearest(name, Names())
		return "", &house.UnknownWord{Kind: "schema", Word: name, Nearest: near}
	}
	doc, err := read(name)
	if err != nil {
		return "", err
	}
	shared, err := read(common)
	if err != nil {
		return "", err
	}
	defs := map[string]any{}
	if err := collect(doc, shared["$defs"].(map[string]any), defs); err != nil {
		return "", fmt.Errorf("%s: %w", name, err)
	}
	if len(defs) > 0 {
		doc["$defs"] = defs
	}
	var b strings.Builder
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	err = enc.Encode(doc)
	return b.String(), err
}

func read(name string) (map[string]any, error) {
	data, err := files.ReadFile(name + ".json")
	if err != nil {
		return nil, err
	}
	var doc map[string]any
	return doc, json.Unmarshal(data, &doc)
}

// collect gathers every definition that v refers to, and those they refer to.
func collect(v any, shared, into map[string]any) error {
	switch v := v.(type) {
	case map[string]any:
		if to, ok := v["$ref"].(string); ok {
			if err := define(strings.TrimPrefix(to, "#/$defs/"), shared, into); err != nil {
				return err
			}
		}
		for _, x := range v {
			if err := collect(x, shared, into); err != nil {
				return err
			}
		}
	case []any:
		for _, x := range v {
			if err := collect(x, shared, into); err != nil {
				return err
			}
		}
	}
	return nil
}

func define(word string, shared, into map[string]any) error {
	if _, ok := into[word]; ok {
		return nil
	}
	def, ok := shared[word]
	if !ok {
		words, ok := vocabulary()[word]
		if !ok {
			return fmt.Errorf("nothing is called %q", word)
		}
		into[word] = map[string]any{"enum": words}
		return nil
	}
	into[word] = def
	return collect(def, shared, into)
}

// vocabulary are the closed lists by the name the schemas give them.
func vocabulary() map[string][]string {
	var letters, recognised, answers, families []string
	for _, t := range house.Terminals() {
		if t.IsLetter() {
			letters = append(letters, t.String())
		}
	}
	for _, l := range house.Looks() {
		for _, a := range l.Answers() {
			if id := l.AnswerID(a); !slices.Contains(answers, id) {
				answers = append(answers, id)
			}
		}
	}
	for _, f := range house.Faults() {
		if id := f.Family().String(); !slices.Contains(families, id) {
			families = append(families, id)
		}
	}
	for _, e := range house.Recognised() {
		recognised = append(recognised, e.String())
	}
	verdicts := []string{}
	for v := house.VerdictUndecided; v <= house.VerdictWorks; v++ {
		verdicts = append(verdicts, v.String())
	}
	findings := words(house.Findings(), func(f house.Finding) string { return string(f) })
	return map[string][]string{
		"letter": letters, "recognised": recognised, "answer": answers, "family": families, "verdict": verdicts, "finding": findings,
		"look": of(house.Looks()), "terminal": of(house.Terminals()), "place": of(house.Places()), "conductor": of(house.AllConductors()),
		"equipment": of(house.Equipments()), "complaint": of(house.Complaints()), "fault": of(house.Faults()),
		"audience": of(house.Audiences()), "fact": of(house.FactKinds()), "quantity": of(quantities),
		"tree-target":    words(house.Complaints(), func(c house.Complaint) string { return "tree " + c.String() }),
		"finding-target": words(findings, func(f string) string { return "finding " + f }),
	}
}

var quantities = []quantity.Quantity{quantity.ACVolts, quantity.LowZVolts, quantity.DCVolts, quantity.Resistance, quantity.Current}

func of[T fmt.Stringer](list []T) []string { return words(list, T.String) }

func words[T any](list []T, word func(T) string) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = word(v)
	}
	return out
}
