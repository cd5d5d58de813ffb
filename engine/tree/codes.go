package tree

// Code is one kind of problem a load can report.
type Code struct {
	ID    string
	Title string // what the rule is, in one line
}

// The codes of this package; those of package source (unknown-key,
// unknown-word, missing-key and so on) are reported too.
const (
	CodeFile          = "bad-file"
	CodeFileName      = "file-name"
	CodeStepKind      = "step-kind"
	CodeStepName      = "step-name"
	CodeTarget        = "bad-target"
	CodeNoStep        = "missing-step"
	CodeNoTree        = "missing-tree"
	CodeNoFinding     = "missing-finding"
	CodeUnreachable   = "unreachable-step"
	CodeCycle         = "cycle"
	CodeFits          = "fits-too-narrow"
	CodeAnswers       = "missing-answer"
	CodeNoOL          = "missing-ol"
	CodeOnePair       = "ohms-one-pair"
	CodePair          = "bad-pair"
	CodePlace         = "wrong-place"
	CodeName          = "bad-name"
	CodeDuplicateName = "duplicate-name"
	CodeNoTerminal    = "no-such-terminal"
	CodeNoLook        = "no-such-look"
	CodeSetup         = "bad-setup"
	CodeUnable        = "missing-unable"
	CodeAskDecides    = "ask-decides"
	CodeLimit         = "missing-limit"
	CodeNoText        = "missing-finding-text"
	CodeVerdict       = "audience-verdict"
	CodeCaution       = "unknown-caution"

	CodeLong     = "condition-long"
	CodeDeep     = "condition-deep"
	CodeOneLine  = "condition-one-line"
	CodeSyntax   = "condition-syntax"
	CodeDenied   = "condition-denied"
	CodeUnknown  = "condition-name"
	CodeNotRead  = "condition-not-read"
	CodeCompare  = "condition-compare"
	CodeUnit     = "condition-unit"
	CodeAnswerID = "condition-answer"
	CodeBare     = "bare-number"
)

var codes = []Code{
	{CodeFile, "a tree file can be read"},
	{CodeFileName, "a file is named after its tree, and ends in .yaml"},
	{CodeStepKind, "a step is one look, one reading or one ask"},
	{CodeStepName, "a step's name is lower-case words joined by hyphens"},
	{CodeTarget, "a target is `step X`, `tree X` or `finding X`"},
	{CodeNoStep, "a target's step is in the same tree"},
	{CodeNoTree, "a target's tree has a file"},
	{CodeNoFinding, "a target's finding has its texts in findings.yaml"},
	{CodeUnreachable, "every step is reached from the first"},
	{CodeCycle, "no path over all trees comes back to a step"},
	{CodeFits, "a tree that is jumped to fits every equipment of the one that jumps"},
	{CodeAnswers, "a look or ask has one branch for each answer"},
	{CodeNoOL, "ohms say where an OL leads"},
	{CodeOnePair, "ohms are read on one pair"},
	{CodePair, "a pair is two different ends, as in Y-C"},
	{CodePlace, "a clamp goes on a conductor at the step's place"},
	{CodeName, "a reading's name is a lower-case word that conditions can use"},
	{CodeDuplicateName, "a name stands for one reading or look of its tree"},
	{CodeNoTerminal, "some equipment the tree fits has the terminal at that place"},
	{CodeNoLook, "some equipment the tree fits has the thing to look at"},
	{CodeSetup, "a setup is one the probe can be made in"},
	{CodeUnable, "a step that somebody may be unable to do says where that leads"},
	{CodeAskDecides, "a house fact narrows the equipment or the reach and never decides"},
	{CodeLimit, "limits.yaml gives control_min and control_max"},
	{CodeNoText, "a finding says all its texts to every audience"},
	{CodeVerdict, "only a technician is sent to repair"},
	{CodeCaution, "a finding's caution exists"},
	{CodeLong, "a condition has at most 1024 bytes"},
	{CodeDeep, "a condition's brackets are at most 16 deep"},
	{CodeOneLine, "a condition is one line of plain or quoted text"},
	{CodeSyntax, "a condition can be read"},
	{CodeDenied, "a condition is made of comparisons, and, or, not"},
	{CodeUnknown, "a condition's names are readings, looks and limits"},
	{CodeNotRead, "a condition's readings were made on every path to it"},
	{CodeCompare, "a comparison is of one reading with one constant"},
	{CodeUnit, "a limit is compared with a reading of its unit"},
	{CodeAnswerID, "a look is compared with one of its answers"},
	{CodeBare, "a bare number in a condition says why in `because`"},
}

// Codes lists the kinds of problem a load can report, with the rule of each.
func Codes() []Code { return append([]Code(nil), codes...) }
