package form

import (
	"os"
	"path/filepath"
	"strings"

	"example.org/tuckrow/model"
)

// Path is the file that somebody means who has typed its name: in the folder where
// one is, with ~ for the home.
func Path(name string) (string, error) {
	if rest, ok := strings.CutPrefix(name, "~/"); ok {
		home, err := os.UserHomeDir()
		if err != nil {
			return "", model.Inputf("%q: where ~ is cannot be found out (%v); write the whole path", name, err)
		}
		name = filepath.Join(home, rest)
	}
	return filepath.Abs(name)
}
