package storage

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
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
	_, whole, err := badger.ReplayManifestFile(f, 0, s.badgerOptions(false))
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
var signs = []string{"checksum mismatch", "does not exist for table", "anifest", "MANIFEST", "corrupted", "failed to initialize table"}

// damage tells by Badger's words whether a store that does not open is damaged.
func damage(err error) error {
	for _, sign := range signs {
		if strings.Contains(err.Error(), sign) {
			return fmt.Errorf("%w: %v", model.ErrDamaged, err)
		}
	}
	return err
}
