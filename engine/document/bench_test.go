package document_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/document"
)

// longOrder is a sound document of about 5000 lines.
func longOrder() string {
	var b strings.Builder
	b.WriteString("name: Long row\nrooms:\n")
	for i := range 830 {
		fmt.Fprintf(&b, "  - name: N%d   # room %d\n    width: 11' 7 5/8\"\n    kind: stall\n    spacing: [12', 12' 6\", 3600 mm]\n    left: {top: 11' 7\", bottom: 11' 7 1/16\"}\n    plate: N%d\n", i, i, i)
	}
	return b.String()
}

func BenchmarkRead5000Lines(b *testing.B) {
	src := []byte(longOrder())
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		var o order
		if err := document.Read("o.yaml", src, &o); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRead5000LinesWithAProblemInEachRoom(b *testing.B) {
	src := []byte(strings.ReplaceAll(longOrder(), "kind: stall", "kind: stal"))
	for b.Loop() {
		var o order
		if document.Read("o.yaml", src, &o) == nil {
			b.Fatal("accepted")
		}
	}
}

func BenchmarkSchema(b *testing.B) {
	for b.Loop() {
		if _, err := document.Schema(order{}, "Order", "https://stallwright.example/order.schema.json"); err != nil {
			b.Fatal(err)
		}
	}
}
