package document

import "testing"

// The distances are worked examples of the literature: kitten and sitting from the
// usual account of Levenshtein's distance; CA and ABC, where the optimal string
// alignment distance is 3 and the unrestricted one 2, from Boytsov, "Indexing
// methods for approximate dictionary searching", ACM JEA 16 (2011). From memory.
func TestAlignment(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3},
		{"ca", "abc", 3},
		{"", "abc", 3},
		{"abc", "", 3},
		{"abc", "abc", 0},
		{"form", "from", 1},
		{"straße", "strasse", 2},
	} {
		if got := alignment([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("%s to %s: %d, not %d", c.a, c.b, got, c.want)
		}
	}
}

func TestNearest(t *testing.T) {
	keys := []string{"name", "width", "height", "barn-row", "free-row", "kit", "at"}
	for _, c := range []struct{ word, want string }{
		{"widht", "width"},
		{"with", "width"},
		{"Width", "width"},
		{"heigth", "height"},
		{"barnrow", "barn-row"},
		{"barn_row", "barn-row"},
		{"Barn Row", "barn-row"},
		{"kti", "kit"},
		{"kits", "kit"},
		{"names", "name"},
		{"nmae", "name"},
		{"an", ""},
		{"colour", ""},
		{"x", ""},
		{"", ""},
		{"breadth", ""},
	} {
		got, ok := Nearest(c.word, keys)
		if got != c.want || ok != (c.want != "") {
			t.Errorf("%q gives %q, %v", c.word, got, ok)
		}
	}
	if got, _ := Nearest("cat", []string{"bat", "rat"}); got != "bat" {
		t.Errorf("of equally near ones %q", got)
	}
}
