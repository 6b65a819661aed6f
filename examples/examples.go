// Package examples holds example jobs, all invented.
package examples

import _ "embed"

// Demo is the demo farm's job document.
//
//go:embed three-meadows.yaml
var Demo string
