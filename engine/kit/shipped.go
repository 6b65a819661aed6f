package kit

import (
	"embed"
	"path"
	"slices"
	"strings"
)

// lines are the kits that ship with the program, all invented.
//
//go:embed lines/*.yaml
var lines embed.FS

// Shipped gives the text of a kit that ships with the program.
func Shipped(name string) (file string, src []byte, ok bool) {
	if name == "" || strings.ContainsAny(name, `/\`) {
		return "", nil, false
	}
	file = path.Join("lines", name+".yaml")
	src, err := lines.ReadFile(file)
	return file, src, err == nil
}

// ShippedNames lists the kits that ship with the program.
func ShippedNames() []string {
	entries, err := lines.ReadDir("lines")
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
