package job

import (
	"embed"
	"slices"
	"strings"
)

// starters are commented jobs to begin from.
//
//go:embed starter/*.yaml
var starters embed.FS

// Starter gives a commented job to begin from.
func Starter(name string) ([]byte, bool) {
	if strings.ContainsAny(name, `/\`) {
		return nil, false
	}
	src, err := starters.ReadFile("starter/" + name + ".yaml")
	return src, err == nil
}

// StarterNames lists the starter jobs.
func StarterNames() []string {
	entries, err := starters.ReadDir("starter")
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".yaml"))
	}
	slices.Sort(names)
	return names
}
