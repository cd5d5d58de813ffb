// Package cautions embeds the caution records, one YAML file each.
package cautions

import "embed"

// FS holds the *.yaml files at its root.
//
//go:embed *.yaml
var FS embed.FS
