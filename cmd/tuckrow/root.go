package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"

	"example.org/tuckrow/cmd/tuckrow/wire"
	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"github.com/adrg/xdg"
	"github.com/spf13/cobra"
)

// app is what the commands share.
type app struct {
	streams
	files wire.Files      // those that the command names
	over  io.Writer       // a line that can be drawn over; nil: nobody sees it
	lent  *lent           // set where the command is run for another terminal
	ctx   context.Context // of the one command that the app is for
	args  []string        // as they were typed
	dir   string          // --store
	json  bool            // --json
	brief bool            // the command reads, and is done soon

	supervises bool // the interface gets a process of its own
}

// version is what Go says of the program as it was built.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok {
		return info.Main.Version + " " + info.GoVersion
	}
	return "not known"
}

func newRoot(a *app) *cobra.Command {
	root := &cobra.Command{
		Use:   "tuckrow",
		Short: "Keep a cupboard of paper sewing patterns in order",
		Long: `tuckrow keeps a cupboard of paper sewing patterns in order: what is owned,
where each envelope stands, what to pull and where to put it after a batch, and
where the boxes should begin and end. Without a command it opens the interface.

Exit codes: 0 done; 1 the answer is no (have); 2 bad usage or input; 3 done in
part, some rows rejected; 4 the store is in use; 5 the store or a backup is
damaged; 6 no room or no permission; 130 stopped with ctrl+c.`,
		Example:       "  tuckrow\n  tuckrow demo",
		Args:          noArgs,
		Version:       version(),
		SilenceUsage:  true,
		SilenceErrors: true,
		RunE:          func(cmd *cobra.Command, _ []string) error { return a.openInterface(cmd.Context()) },
	}
	root.PersistentFlags().StringVar(&a.dir, "store", "", "folder of the store (else $TUCKROW_STORE, else the XDG data folder)")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return model.Inputf("%v; see: %s --help", err, cmd.CommandPath())
	})
	root.AddCommand(a.demoCommand(), a.importCommand(), a.exportCommand(), a.shelfCommand(), a.addCommand(),
		a.findCommand(), a.haveCommand(), a.shelfListCommand(), a.refileCommand(), a.splitCommand(), a.labelsCommand(),
		a.shelfReadCommand(), a.stocktakeCommand(), a.measureCommand(),
		a.outCommand(), a.backCommand(), a.printCommand(), a.undoCommand(), a.verifyCommand(), a.changeCommand(),
		a.personCommand(), a.fitsCommand(), a.clothCommand(), a.enoughCommand(),
		a.backupCommand(), a.restoreCommand(), a.handoverCommand(),
		a.wantCommand(), a.arrivingCommand(), a.arrivedCommand(), a.surplusCommand(),
		a.chooseCommand(), a.nextCommand(), a.sewnCommand(), a.goalCommand(), a.statsCommand(),
		a.batchesCommand(), a.identifyCommand(), a.codesCommand(), a.whatIfCommand(), a.suppliesCommand(), a.worthCommand(), a.packingCommand(), a.bindersCommand(), a.hooksCommand(),
		a.mergeCommand(), a.unmergeCommand(), a.partCommand(), a.linkCommand(), a.publishersCommand())
	return root
}

// noArgs is cobra.NoArgs with a hint.
func noArgs(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		return model.Inputf("%q is not a command, nor does %q take arguments; see: %s --help", args[0], cmd.CommandPath(), cmd.CommandPath())
	}
	return nil
}

// someArgs asks for at least one argument and says which.
func someArgs(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return model.Inputf("%s needs %s; see: %s --help", cmd.CommandPath(), what, cmd.CommandPath())
		}
		return nil
	}
}

// oneArg asks for exactly one argument and says which.
func oneArg(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) != 1 {
			return model.Inputf("%s needs %s; see: %s --help", cmd.CommandPath(), what, cmd.CommandPath())
		}
		return nil
	}
}

// reads adds --json to a command that reads.
func (a *app) reads(cmd *cobra.Command) *cobra.Command {
	cmd.Flags().BoolVar(&a.json, "json", false, "print JSON, lengths in mm")
	cmd.PreRun = func(*cobra.Command, []string) { a.brief = true }
	return cmd
}

// storeDir is the folder of the store.
func (a *app) storeDir() string {
	return cmp.Or(a.dir, os.Getenv("TUCKROW_STORE"), filepath.Join(xdg.DataHome, "tuckrow"))
}

// printf writes to the output. Whatever the user or a file gave, nothing in it
// steers the terminal.
func (a *app) printf(format string, args ...any) {
	fmt.Fprint(a.out, words.Escape(fmt.Sprintf(format, args...)))
}

// printJSON writes a value for other programs.
func (a *app) printJSON(v any) error {
	var b strings.Builder
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(v); err != nil {
		return err
	}
	_, err := io.WriteString(a.out, words.EscapeJSON(b.String()))
	return err
}

// anyCopy takes each copy for oneCopy.
func anyCopy(*model.Copy) string { return "" }

// oneCopy finds the copy that the user means: by accession number, or by words
// that lead to just one of those for which there is nothing that unfit says.
func oneCopy(s cupboard, l *ordering.Layout, copyNo int, words string, unfit func(*model.Copy) string) (model.Accession, error) {
	c := l.Collection()
	if copyNo != 0 {
		if c.Copy(model.Accession(copyNo)) == nil {
			return 0, model.Inputf("there is no copy %d; look it up with: tuckrow find WORDS", copyNo)
		}
		return model.Accession(copyNo), nil
	}
	x := s.Index()
	patterns, guessed := x.Named(words), false
	if len(patterns) == 0 {
		found := x.Find(words, 50)
		patterns, guessed = found.Patterns, found.Guessed
	}
	var all, others []model.Accession
	for _, p := range patterns {
		for _, cp := range x.Copies(p) {
			if unfit(c.Copy(cp)) == "" {
				all = append(all, cp)
			} else {
				others = append(others, cp)
			}
		}
	}
	switch {
	case len(all) == 1 && !guessed:
		return all[0], nil
	case len(all) == 0 && len(others) == 1:
		return 0, model.Inputf("%s %s", c.Called(c.PatternOf(others[0]).ID), unfit(c.Copy(others[0])))
	case len(all) == 0:
		return 0, model.Inputf("%q leads to no copy that this can be done with; look it up with: tuckrow find %s", words, words)
	}
	text := fmt.Sprintf("%q could be one of these; say which with --copy:", words)
	for _, cp := range all[:min(len(all), 10)] {
		p := c.PatternOf(cp)
		text += fmt.Sprintf("\n  --copy %-5d %s", cp, joined([]string{c.Publisher(p.Publisher).Name + " " + p.Heading(), p.SizeRange, string(c.Copy(cp).Cut), slotText(l, l.Slot(cp))}, "  "))
	}
	if len(all) > 10 {
		text += fmt.Sprintf("\n  and %d more", len(all)-10)
	}
	return 0, &model.InputError{Text: text}
}

// closing closes what was written, keeping the first error.
func closing(c io.Closer, err *error) { *err = errors.Join(*err, c.Close()) }
