package report

import (
	_ "embed"
	"html/template"
	"io"
	"strconv"
	"strings"
	"sync"

	"stepdown/engine/session"
)

//go:embed page.html
var pageText string

// page is parsed when the first page is written: most runs write none.
var page = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("page").Funcs(template.FuncMap{
		"clock": clock, "again": func() string { return session.AgainHead }, "upper": strings.ToUpper,
		"slug": func(i int) string { return "s" + strconv.Itoa(i) },
	}).Parse(pageText))
})

// view is what the page shows.
type view struct {
	*Report
	About, Outcome [][2]string
	Sections       []section
	Drawing        *sketch
	Words          []string
	Marks          []string
	Rulings        []string
	Tell           string
}

// HTML writes the report as one page that needs nothing else.
func (r *Report) HTML(w io.Writer) error {
	v := view{Report: r, About: r.about(), Tell: r.tellTitle()}
	if r.Finding != nil {
		v.Outcome = r.outcome()
	}
	for _, p := range r.Probes {
		v.Rulings = append(v.Rulings, p.ruling())
	}
	for _, s := range []section{
		{Title: "Cautions acknowledged", Lines: eventLines(r.Cautions)},
		{Title: "Done by hand", Lines: eventLines(r.Done)},
		{Title: "Could not be done", Lines: eventLines(r.Unable)},
		{Title: "Notes", Lines: eventLines(r.Notes)},
		{Title: "Passed on", Lines: eventLines(r.Passed)},
	} {
		if len(s.Lines) > 0 {
			v.Sections = append(v.Sections, s)
		}
	}
	if r.ladder != nil {
		v.Drawing, v.Words = r.ladder.sketch(), r.ladder.words()
	}
	return page().Execute(w, v)
}
