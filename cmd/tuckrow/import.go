package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/clean"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage/exchange"
	"github.com/spf13/cobra"
)

type importOptions struct {
	dryRun         bool
	columns, batch string
	clean          bool
	take           string // of the proposals for cleaning
}

func (a *app) importCommand() *cobra.Command {
	var o importOptions
	cmd := &cobra.Command{
		Use:   "import FILE",
		Short: "Take in a spreadsheet (CSV) or an export (JSON Lines)",
		Long: `Takes in a spreadsheet as CSV, one row a copy, or a whole cupboard as an export
made it (a file that ends in .jsonl, into an empty store only).

Columns are guessed by their headings and by what they hold: a "Pattern" is the number
or the name on the sleeve, but in an export of ours what makes rows one pattern. What
is not guessed right is told with --columns. Comma, semicolon or tab, UTF-8 or
Windows-1252 are found out. A row that cannot be
used goes with its reason to FILE.rejected.csv, or FILE.rejected2.csv and so on where
there is one, since you may be mending it; the others are stored together
or, when something fails or ctrl+c stops it, not at all. A row whose publisher and
number are listed already is a further copy where it says nothing else of the
pattern, however spelled; else it is a pattern of its own, and what differs is said.

A spreadsheet that was kept by hand is looked through with --clean: publisher and
number in one cell, remarks behind a number, sizes behind a name, one publisher
spelled in several ways, days written otherwise; what cannot be read goes into the
notes. Each proposal is shown and nothing is stored; with --take
those that are taken are applied and the file is stored, all as one step for undo.

Columns of ours: ` + fieldHelp(),
		Example: `  tuckrow import drawer.csv --dry-run
  tuckrow import drawer.csv --columns 'Company=publisher, No.=number' --batch 'hall drawer'
  tuckrow import old-list.csv --clean
  tuckrow import old-list.csv --take spelling,1,4-7
  tuckrow --store new import cupboard.jsonl`,
		Args: oneArg("the FILE to take in"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				if strings.EqualFold(filepath.Ext(args[0]), ".jsonl") {
					return a.importWhole(cmd.Context(), s, args[0], o)
				}
				if o.clean && o.take == "" {
					return a.proposeCleaning(cmd.Context(), s, args[0], o)
				}
				return a.importCSV(cmd.Context(), s, args[0], o)
			})
		},
	}
	cmd.Flags().BoolVar(&o.dryRun, "dry-run", false, "say what would be stored, and store nothing")
	cmd.Flags().StringVar(&o.columns, "columns", "", "their headings for our columns: 'theirs=ours, ...'; 'theirs=' leaves one out")
	cmd.Flags().StringVar(&o.batch, "batch", "", "name of the batch for rows that name none")
	cmd.Flags().BoolVar(&o.clean, "clean", false, "show what could be mended in it, and store nothing")
	cmd.Flags().StringVar(&o.take, "take", "", "mend it so first: all, kinds or numbers of what --clean shows")
	return cmd
}

func fieldHelp() string {
	var b strings.Builder
	for _, f := range model.Fields() {
		fmt.Fprintf(&b, "\n  %-13s %s", f.Name, f.Help)
	}
	return b.String()
}

// spreadsheet opens a file of somebody's own, and reads what its columns are
// said to be.
func (a *app) spreadsheet(path, columns string) (told map[string]string, f io.ReadCloser, err error) {
	if told, err = exchange.ParseColumns(columns); err != nil {
		return nil, nil, err
	}
	if f, err = a.files.Open(path); err != nil {
		return nil, nil, unreadable(err)
	}
	return told, f, nil
}

func (a *app) importCSV(ctx context.Context, s cupboard, path string, o importOptions) (err error) {
	told, f, err := a.spreadsheet(path, o.columns)
	if err != nil {
		return err
	}
	defer closing(f, &err)
	p, in := a.progress(), newSteady(ctx, f)
	p.step("reading "+filepath.Base(path), in.Share)
	im, plan, err := planned(ctx, s, in, told, o, filepath.Base(path))
	n := len(plan.Change.Entries)
	if err == nil && !o.dryRun && n > 0 {
		p.step("storing "+copies(n), nil)
		if _, err = s.Commit(ctx, plan.Change); err != nil {
			err = fmt.Errorf("nothing was stored: %w", err)
		}
	}
	p.end()
	if err != nil {
		return importing(path, err)
	}
	a.sayColumns(im)
	if o.dryRun {
		a.printf("%s would be stored, %d of them further copies of a pattern listed already.\n", copies(n), plan.Seconds)
		if said := plan.Repeated(); said != "" {
			a.printf("%s\n", said)
		}
		a.sayDoubts(im)
		for _, x := range plan.Again {
			a.printf("line %d: listed already: %s\n", x.Line, x.Says)
		}
		for _, r := range im.Rejected {
			a.printf("line %d would be rejected: %s\n", r.Line, r.Reason)
		}
		return partly(im)
	}
	a.printf("%s stored, %d of them further copies of a pattern listed already.\n", copies(n), plan.Seconds)
	if said := plan.Repeated(); said != "" {
		a.printf("%s Then %s takes all of it back.\n", said, a.again("undo"))
	}
	a.sayOwn(plan.Again)
	for _, said := range plan.New(unitsOf(s.Collection())) {
		if strings.HasPrefix(said, "box") {
			said += ": put its true length in with tuckrow shelf show, shelf apply"
		}
		a.printf("%s.\n", said)
	}
	if err := a.keepRejected(im, path); err != nil {
		return err
	}
	return partly(im)
}

// sayOwn names the rows whose number is listed already, and that are patterns of
// their own all the same: each may be one of them entered twice.
func (a *app) sayOwn(again []exchange.Again) {
	for _, x := range again {
		if !x.Further {
			a.printf("line %d: listed already: %s\n", x.Line, x.Says)
		}
	}
}

// planned reads a spreadsheet and fits it into the cupboard.
func planned(ctx context.Context, s cupboard, in io.Reader, told map[string]string, o importOptions, name string) (*exchange.Import, exchange.Planned, error) {
	none := exchange.Planned{Change: &model.Add{}}
	im, err := exchange.ReadToClean(in, told, o.take == "")
	if stopped := ctx.Err(); stopped != nil {
		err = stopped
	}
	if err != nil {
		return nil, none, err
	}
	var mended []clean.Proposal
	if o.take != "" {
		if mended, err = taken(o.take, im.Propose(s.Collection())); err != nil {
			return nil, none, err
		}
	}
	im.Settle(mended)
	return im, im.Plan(s.Collection(), o.batch, name), nil
}

// importing says of which file an error is. Who stops an import need not be told
// why it ended.
func importing(path string, err error) error {
	if errors.Is(err, context.Canceled) {
		return fmt.Errorf("importing %q: %w", path, errStopped)
	}
	return fmt.Errorf("importing %q: nothing was stored: %w", path, err)
}

// sayColumns says which heading was understood as what, where that is not
// plain.
func (a *app) sayColumns(im *exchange.Import) {
	for i, ours := range im.Columns {
		if ours != "" && im.Header[i] != ours {
			a.printf("column %q is read as %s\n", im.Header[i], ours)
		}
	}
	for _, h := range im.Unused() {
		a.printf("column %q is not used; to keep it, say for example --columns '%s=notes'\n", h, h)
	}
}

func (a *app) keepRejected(im *exchange.Import, path string) error {
	if len(im.Rejected) == 0 {
		return nil
	}
	name, there, err := im.RejectedName(path, a.files.Open)
	if err == nil && !there {
		err = a.exportTo(name, false, im.WriteRejected)
	}
	if err != nil {
		return fmt.Errorf("the rows that were rejected cannot be kept: %w", err)
	}
	a.printf("%d rejected, with their reasons in %s; mend them there and import that file.\n", len(im.Rejected), name)
	return nil
}

func partly(im *exchange.Import) error {
	if len(im.Rejected) > 0 {
		return answer(exitPart)
	}
	return nil
}

// importWhole takes in a whole cupboard.
func (a *app) importWhole(ctx context.Context, s cupboard, path string, o importOptions) (err error) {
	f, err := a.files.Open(path)
	if err != nil {
		return unreadable(err)
	}
	defer closing(f, &err)
	p, in := a.progress(), newSteady(ctx, f)
	p.step("reading "+filepath.Base(path), in.Share)
	c, err := exchange.ReadJSONL(in)
	if stopped := ctx.Err(); stopped != nil {
		err = stopped
	}
	if err == nil && !o.dryRun {
		p.step("storing "+copies(c.Copies().Len()), nil)
		_, err = s.Fill(ctx, c, (&model.Fill{From: filepath.Base(path)}).Title(nil))
	}
	p.end()
	if err != nil {
		return importing(path, err)
	}
	if o.dryRun {
		a.printf("the export is whole: %s would be stored.\n", copies(c.Copies().Len()))
		return nil
	}
	a.printf("%s stored, with shelf and settings.\n", copies(c.Copies().Len()))
	return nil
}

func unreadable(err error) error {
	return fmt.Errorf("%w; check the name of the file and that you may read it", err)
}

func copies(n int) string { return words.Count(n, "copy", "copies") }

// exportTo opens where an export goes: a file that is only put in place when it
// is whole, or the output. A file that is there stays, unless it may be replaced.
func (a *app) exportTo(path string, replace bool, write func(io.Writer) error) (err error) {
	if path == "" || path == "-" {
		return write(a.out)
	}
	d, err := a.files.Create(path, replace)
	if errors.Is(err, fs.ErrExist) {
		return model.Inputf("%q is there already and was left as it is; name another file, or say --replace", path)
	}
	if err != nil {
		return fmt.Errorf("writing %q: %w; check the folder and that you may write there", path, err)
	}
	defer closing(d, &err) // forgotten, unless it is kept
	if err = write(d); err == nil {
		err = d.Keep()
	}
	if err != nil {
		return fmt.Errorf("writing %q: %w", path, err)
	}
	return nil
}
