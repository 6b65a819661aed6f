package job_test

import (
	"os"
	"path/filepath"
	"testing"
)

// seed adds the examples and the broken jobs kept beside the tests to a fuzz
// target's corpus.
func seed(f *testing.F) {
	f.Helper()
	for _, pattern := range []string{"../../examples/*.yaml", "testdata/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		for _, name := range files {
			src, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(src)
		}
	}
}
