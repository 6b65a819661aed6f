package differ

import (
	"bytes"
	"encoding/json"
)

// JSON is the whole difference, ungrouped; docs/diff.md explains each field.
func (d *Diff) JSON() ([]byte, error) {
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(d); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}
