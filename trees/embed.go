// Package trees embeds the decision trees, one YAML file a complaint, with
// their findings and limits, and the equipment they are proven on.
package trees

import "embed"

// FS holds the trees, findings.yaml and limits.yaml at its root, and the
// equipment files in equipment/.
//
//go:embed *.yaml equipment/*.yaml
var FS embed.FS

// Hidden are faults that no complaint shows, and why.
var Hidden = map[string]string{
	"open-r-outdoor":  "it lets an outdoor unit ice up in frost, and ice is no complaint about the control circuit",
	"open-w2-outdoor": "it leaves the air cold while an outdoor unit melts its ice, which every heat call waits out first",
}
