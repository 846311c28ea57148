package storage

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"example.org/tuckrow/model"
	"github.com/dgraph-io/badger/v4"
)

// checkFiles looks at Badger's list of its tables before Badger does: without
// the list, or with its end cut off, Badger would open empty and delete the
// tables that are not on it.
func (s *Store) checkFiles() error {
	f, err := os.Open(filepath.Join(s.badgerDir(), badger.ManifestFilename))
	if errors.Is(err, fs.ErrNotExist) {
		return s.mustHoldNoData()
	}
	if err != nil {
		return err
	}
	defer f.Close() // only read
	list, whole, err := badger.ReplayManifestFile(f, 0, s.badgerOptions(false))
	if err != nil {
		return fmt.Errorf("%w: the list of its tables cannot be read: %v", model.ErrDamaged, err)
	}
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if info.Size() != whole {
		return fmt.Errorf("%w: the list of its tables is cut short", model.ErrDamaged)
	}
	return s.checkTables(list)
}

// ours are the names that Badger gives its files.
var ours = regexp.MustCompile(`^(MANIFEST(-REWRITE)?|LOCK|(REWRITE-)?KEYREGISTRY|DISCARD|\d{6}\.(sst|vlog)|\d{5}\.mem)$`)

// ForeignError is a file in Badger's folder that is not Badger's, of which it
// would trip. It counts as model.ErrDamaged, though nothing is.
type ForeignError struct{ Path string }

func (e *ForeignError) Error() string {
	return fmt.Sprintf("there is a file %q which tuckrow did not put there; nothing of yours is damaged by that, but it may be how a program that synchronises folders names another version of a file. Move it out of there and try again, and keep the store out of folders that are synchronised", e.Path)
}

// Is makes errors.Is tell damage.
func (e *ForeignError) Is(target error) bool { return target == model.ErrDamaged }

// checkForeign looks for files that others have put into Badger's folder. One
// that does no harm is only spoken of.
func (s *Store) checkForeign() error {
	inside, err := os.ReadDir(s.badgerDir())
	if err != nil {
		return err
	}
	for _, e := range inside {
		if ours.MatchString(e.Name()) {
			continue
		}
		path := filepath.Join(s.badgerDir(), e.Name())
		switch filepath.Ext(e.Name()) {
		case ".sst", ".mem", ".vlog":
			return &ForeignError{path}
		}
		s.note("%q is none of tuckrow's files; if a program that synchronises folders has put it there, keep the store out of such folders", path)
	}
	return nil
}

// mustHoldNoData guards against a store whose list of tables is lost.
func (s *Store) mustHoldNoData() error {
	files, err := os.ReadDir(s.badgerDir())
	if err != nil {
		return err
	}
	for _, f := range files {
		if ext := filepath.Ext(f.Name()); ext == ".sst" || ext == ".mem" {
			return fmt.Errorf("%w: there is %s, but not the list of its tables", model.ErrDamaged, f.Name())
		}
	}
	return nil
}

// signs of damage in what Badger says when it cannot open; it has no errors to
// tell them by. Its texts of v4.9.6.
var signs = []string{"checksum mismatch", "does not exist for table", "anifest", "MANIFEST", "corrupted", "failed to initialize table", "while opening memtables", "While opening vlog"}

// damage tells by Badger's words whether a store that does not open is damaged.
func damage(err error) error {
	for _, sign := range signs {
		if strings.Contains(err.Error(), sign) {
			return fmt.Errorf("%w: %v", model.ErrDamaged, err)
		}
	}
	return err
}
