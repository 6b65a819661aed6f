package views

import (
	"strings"
	"unicode/utf8"
)

// longName is from how many letters on a structure's name is left out of its
// posts' names on setting-out drawings: there would be no room for forty of them.
const longName = 12

func long(structure string) bool { return utf8.RuneCountInString(structure) >= longName }

// short is a post's name as setting-out drawings write it: without the name of its
// structure where that is long, which the sheet's title and a note give in full.
func (t *tables) short(post string) string {
	for i := range t.Layout.Structures {
		s := t.Layout.Structures[i].Name
		if rest, ok := strings.CutPrefix(post, s+"."); ok && long(s) && rest != "" {
			return rest
		}
	}
	return post
}
