package model

import "strings"

// Medium is what a copy is made of.
type Medium string

// The media a pattern comes in; the empty value is factory tissue.
const (
	Tissue   Medium = ""
	Printed  Medium = "printed"  // printed at home
	Traced   Medium = "traced"   // traced off another
	Drafted  Medium = "drafted"  // self-drafted
	Magazine Medium = "magazine" // a magazine kept whole
)

// Cut says whether the tissue was cut.
type Cut string

// The cut states; the empty value is not known.
const (
	CutUnknown Cut = ""
	Uncut      Cut = "uncut"
	PartlyCut  Cut = "partly"
	FullyCut   Cut = "cut"
)

// Home says in what kind of holder a copy belongs.
type Home string

// The homes; the empty value follows the medium.
const (
	HomeByMedium Home = ""
	HomeBox      Home = "box"
	HomeHook     Home = "hook"
	HomeOversize Home = "oversize" // among what no box takes; a dummy stands for it in its place
)

// Sleeve says where the printed sleeve is.
type Sleeve string

// The places of a sleeve; the empty value is not dealt with yet.
const (
	SleeveWaiting    Sleeve = ""
	SleeveInBinder   Sleeve = "binder"
	SleevePhotocopy  Sleeve = "photocopy"   // a photocopy is in the binder
	SleeveWithTissue Sleeve = "with tissue" // kept in the envelope
	SleeveMissing    Sleeve = "missing"
)

// Step is a step of filing, or Filed when all are done. A copy is at the
// first step that has not been done to it.
type Step int

// The four steps in the order in which they are done, then Filed, then what is
// at none of them.
const (
	StepSleeve Step = iota
	StepEnvelope
	StepGroup
	StepBox
	Filed
	NotFound // it was looked for; no step can be done before it turns up
	steps
)

var stepNames = [steps]string{"sleeve", "envelope", "group", "box", "filed", "missing"}

// String is the step's name as files have it.
func (s Step) String() string { return stepNames[s] }

// Word is the step's name as people read it. What is filed is done: it is in its
// place and its sleeve is dealt with, which "filed" was not read as.
func (s Step) Word() string {
	if s == Filed {
		return "done"
	}
	return s.String()
}

// ParseStep reads the name of one of the four steps.
func ParseStep(s string) (Step, error) {
	return oneOf("step", s, Step.String, StepSleeve, StepEnvelope, StepGroup, StepBox)
}

// Steps lists the four steps.
func Steps() []Step { return []Step{StepSleeve, StepEnvelope, StepGroup, StepBox} }

func spell[T ~string](v T) string { return string(v) }

// ParseMedium reads a medium; "tissue" is the same as nothing.
func ParseMedium(s string) (Medium, error) {
	if strings.EqualFold(s, "tissue") {
		return Tissue, nil
	}
	return oneOf("medium", s, spell[Medium], Tissue, Printed, Traced, Drafted, Magazine)
}

// ParseCut reads a cut state.
func ParseCut(s string) (Cut, error) {
	switch strings.ToLower(s) {
	case "partly cut":
		return PartlyCut, nil
	case "no":
		return Uncut, nil
	case "yes":
		return FullyCut, nil
	}
	return oneOf("cut", s, spell[Cut], CutUnknown, Uncut, PartlyCut, FullyCut)
}

// ParseHome reads a kind of home.
func ParseHome(s string) (Home, error) {
	return oneOf("home", s, spell[Home], HomeByMedium, HomeBox, HomeHook, HomeOversize)
}

// ParseSleeve reads where a sleeve is.
func ParseSleeve(s string) (Sleeve, error) {
	return oneOf("sleeve", s, spell[Sleeve], SleeveWaiting, SleeveInBinder, SleevePhotocopy, SleeveWithTissue, SleeveMissing)
}

// ParseYes reads yes or no; nothing is no.
func ParseYes(field, s string) (bool, error) {
	switch strings.ToLower(s) {
	case "", "no", "n", "false", "0":
		return false, nil
	case "yes", "y", "true", "1", "x":
		return true, nil
	}
	return false, &FieldError{Field: field, Value: s, Problem: "is neither yes nor no", Hint: `write "yes" or "no"`}
}

// oneOf finds s among the allowed values, whatever its case.
func oneOf[T any](field, s string, name func(T) string, allowed ...T) (T, error) {
	var names []string
	for _, v := range allowed {
		if strings.EqualFold(name(v), s) {
			return v, nil
		}
		if name(v) != "" {
			names = append(names, name(v))
		}
	}
	var zero T
	return zero, &FieldError{Field: field, Value: s, Problem: "is not known", Hint: "use one of: " + strings.Join(names, ", ")}
}
