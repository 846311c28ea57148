package whole

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.org/tuckrow/model"
)

// planFile says in a folder that a switch has been decided on and may not be
// done yet.
const planFile = "switch.json"

// planFormat is the version of a plan. One of a higher version is refused.
const planFormat = 1

// plan is a switch. All names are of one folder and what lies right in it.
type plan struct {
	Format int      `json:"format"`
	From   string   `json:"from"`  // the folder with what comes in
	Aside  string   `json:"aside"` // the folder for what goes
	In     []string `json:"in"`
	Out    []string `json:"out"`
}

// Switch puts what lies in the folder from, which is in dir, into dir. What was
// in dir goes into a new folder there, aside, but for what stays tells to
// leave. It is decided the moment that its plan is on disk: a kill before that
// leaves all as it was, and after one later on Finish does the rest. The folder
// from is gone in the end. Whoever calls it has the folder locked, and step is
// called before each move.
func Switch(dir, from, aside string, stays func(name string) bool, step func()) error {
	p := plan{Format: planFormat, From: from, Aside: aside}
	var err error
	if p.In, err = namesIn(filepath.Join(dir, from)); err != nil {
		return err
	}
	if p.Out, err = namesIn(dir); err != nil {
		return err
	}
	p.Out = slices.DeleteFunc(p.Out, func(name string) bool { return name == from || stays(name) })
	if err := p.check(); err != nil {
		return err
	}
	text, err := json.MarshalIndent(p, "", "  ")
	if err != nil {
		return err
	}
	step()
	err = Replace(filepath.Join(dir, planFile), func(w io.Writer) error {
		_, err := w.Write(append(text, '\n'))
		return err
	}, nil)
	if err != nil {
		return err
	}
	if err := p.carryOut(dir, step); err != nil {
		return tell(dir, errors.Join(err, p.callOff(dir)))
	}
	return nil
}

// callOff drops a plan of which nothing could be carried out. Of one that was
// begun, the rest is for Finish.
func (p *plan) callOff(dir string) error {
	to := filepath.Join(dir, p.Aside)
	if moved, _ := namesIn(to); len(moved) > 0 {
		return nil
	}
	err := remove(filepath.Join(dir, planFile))
	if isFolder(to) {
		err = errors.Join(err, remove(to))
	}
	return err
}

// Unfinished makes a folder in dir for what a Switch will bring in. Finish
// removes it if that does not come about.
func Unfinished(dir, name string) (path string, err error) {
	path, err = os.MkdirTemp(dir, name+".*"+unfinished)
	if err != nil {
		return "", tell(dir, err)
	}
	return path, nil
}

// Finish does what a kill left of a switch, and removes what one left that was
// never decided on. Whoever calls it has the folder locked.
func Finish(dir string) error {
	if err := finish(dir); err != nil {
		return err
	}
	err := Clear(dir, planFile) // of a plan that was not written to its end
	names, unread := namesIn(dir)
	err = errors.Join(err, unread)
	for _, name := range names {
		if path := filepath.Join(dir, name); isOurs(name) && isFolder(path) {
			err = errors.Join(err, os.RemoveAll(path))
		}
	}
	return err
}

// Planned tells whether a switch in a folder was decided on and is not done.
func Planned(dir string) bool {
	_, err := os.Lstat(filepath.Join(dir, planFile))
	return err == nil
}

func isFolder(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.IsDir()
}

func finish(dir string) error {
	text, err := os.ReadFile(filepath.Join(dir, planFile))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	var p plan
	if err == nil {
		err = json.Unmarshal(text, &p)
	}
	if err == nil {
		err = p.check()
	}
	if err != nil {
		return fmt.Errorf("%w: %q cannot be carried out: %w", model.ErrDamaged, filepath.Join(dir, planFile), err)
	}
	return p.carryOut(dir, func() {})
}

// check makes sure that a plan names what lies right in the folder: a name with
// a slash, say, would lead elsewhere.
func (p *plan) check() error {
	if p.Format < 1 || p.Format > planFormat {
		return fmt.Errorf("it has format %d", p.Format)
	}
	for _, name := range slices.Concat([]string{p.From, p.Aside}, p.In, p.Out) {
		if !filepath.IsLocal(name) || strings.ContainsAny(name, `/\`) || name == "." || name == planFile {
			return fmt.Errorf("%q is not the name of something that lies in it", name)
		}
	}
	if p.From == p.Aside || slices.Contains(p.Out, p.From) || slices.Contains(p.Out, p.Aside) {
		return fmt.Errorf("%q and %q cannot both be", p.From, p.Aside)
	}
	return nil
}

// carryOut moves first all that goes out and then all that comes in. Doing it
// again, from wherever a kill stopped it, leads to the same end. An os.Root
// keeps it in the folder, whatever links lie there.
func (p *plan) carryOut(dir string, step func()) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close() // only names were changed through it
	if err := root.Mkdir(p.Aside, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	for _, name := range p.Out {
		step()
		if there(root, p.Aside, name) || !there(root, name) {
			continue
		}
		if err := root.Rename(name, filepath.Join(p.Aside, name)); err != nil {
			return err
		}
	}
	SyncDir(filepath.Join(dir, p.Aside))
	for _, name := range p.In {
		step()
		if !there(root, p.From, name) {
			continue
		}
		// An empty folder may have been made meanwhile by who looked for one.
		if info, err := root.Lstat(name); err == nil && info.IsDir() {
			_ = root.Remove(name)
		}
		if err := root.Rename(filepath.Join(p.From, name), name); err != nil {
			return err
		}
	}
	SyncDir(dir)
	step()
	_ = root.Remove(p.From) // where something else lies in it, it stays
	if err := root.Remove(planFile); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	SyncDir(dir)
	return nil
}

func there(root *os.Root, path ...string) bool {
	_, err := root.Lstat(filepath.Join(path...))
	return err == nil
}

func namesIn(dir string) ([]string, error) {
	inside, err := os.ReadDir(dir)
	var names []string
	for _, e := range inside {
		names = append(names, e.Name())
	}
	return names, err
}
