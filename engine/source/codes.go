package source

// The codes of the problems this package reports.
const (
	CodeTooBig      = "file-too-big"
	CodeLongLine    = "line-too-long"
	CodeNotUTF8     = "not-utf8"
	CodeControl     = "control-character"
	CodeSyntax      = "yaml-syntax"
	CodeEmptyFile   = "file-empty"
	CodeDocuments   = "second-document"
	CodeDuplicate   = "duplicate-key"
	CodeAnchor      = "anchor"
	CodeAlias       = "alias"
	CodeMerge       = "merge-key"
	CodeTag         = "tag"
	CodeKey         = "bad-key"
	CodeTooDeep     = "too-deep"
	CodeUnknownKey  = "unknown-key"
	CodeMissingKey  = "missing-key"
	CodeWrongKind   = "wrong-kind"
	CodeEmpty       = "empty-value"
	CodeNotNumber   = "not-a-number"
	CodeNotInteger  = "not-an-integer"
	CodeNotBool     = "not-true-or-false"
	CodeUnknownWord = "unknown-word"
)
