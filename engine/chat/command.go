package chat

import (
	"strings"
	"unicode"

	"stepdown/engine/source"
)

// command is a word that may be typed at any prompt.
type command string

const (
	cmdNone     command = ""
	cmdWhy      command = "why"
	cmdSuspects command = "suspects"
	cmdLanding  command = "landing"
	cmdPicture  command = "picture"
	cmdExpect   command = "expect"
	cmdBack     command = "back"
	cmdUnable   command = "unable"
	cmdNote     command = "note"
	cmdRecord   command = "record"
	cmdHelp     command = "help"
	cmdQuit     command = "quit"
)

// commands lists them in the order help shows them, with what they do.
var commands = []struct {
	name  command
	shown string
	does  string
}{
	{cmdWhy, "why", "why this is asked"},
	{cmdPicture, "picture", "where the leads go"},
	{cmdExpect, "expect", "what a healthy house reads here"},
	{cmdSuspects, "suspects", "what can still be wrong"},
	{cmdLanding, "landing", "check how a new thermostat was wired"},
	{cmdUnable, "unable", "cannot do, reach or tell this"},
	{cmdBack, "back", "take the last answer back"},
	{cmdNote, "note TEXT", "write something into the record"},
	{cmdRecord, "record", "the call so far"},
	{cmdQuit, "quit", "leave; the call is kept"},
}

// sayings are other ways people type a command, folded.
var sayings = map[string]command{
	"?": cmdHelp, "exit": cmdQuit, "bye": cmdQuit, "undo": cmdBack,
	"cannot": cmdUnable, "can not": cmdUnable, "cant": cmdUnable, "i cannot": cmdUnable, "i can not": cmdUnable,
	"i cant": cmdUnable, "im unable": cmdUnable, "i am unable": cmdUnable, "no can do": cmdUnable, "skip": cmdUnable,
	"i do not know": cmdUnable, "i dont know": cmdUnable, "dont know": cmdUnable, "do not know": cmdUnable,
	"not sure": cmdUnable, "im not sure": cmdUnable, "i am not sure": cmdUnable,
}

// commandOf reads a line as a command; rest is what follows the word of one
// that takes text.
func commandOf(line string) (name command, rest string) {
	key := foldWords(line)
	for _, c := range commands {
		if key == string(c.name) {
			return c.name, ""
		}
	}
	if key == string(cmdHelp) {
		return cmdHelp, ""
	}
	if name, ok := sayings[key]; ok {
		return name, ""
	}
	if line == "?" {
		return cmdHelp, ""
	}
	word, rest, found := strings.Cut(strings.TrimSpace(line), " ")
	if word = strings.TrimSuffix(word, ":"); found && strings.EqualFold(word, string(cmdNote)) {
		return cmdNote, strings.TrimSpace(rest)
	}
	return cmdNone, ""
}

// foldWords brings a line to what it is compared by: lower case, one space
// between words, no apostrophe and no closing punctuation.
func foldWords(line string) string {
	line = strings.Map(func(r rune) rune {
		switch r {
		case '\'', '’', '`':
			return -1
		}
		return unicode.ToLower(r)
	}, line)
	return strings.Join(strings.Fields(strings.TrimRight(line, ".!, ")), " ")
}

// nearCommand is the command or one of also that a lone word was probably
// meant to be.
func nearCommand(line string, also []string) (string, bool) {
	word := foldWords(line)
	if strings.Contains(word, " ") {
		word, _, _ = strings.Cut(word, " ")
		if word == "not" || word == "no" { // an answer that was not understood, not a note
			return "", false
		}
		if near, ok := source.Nearest(word, []string{string(cmdNote)}); ok {
			return near + " TEXT", true
		}
		return "", false
	}
	words := append([]string{}, also...)
	for _, c := range commands {
		words = append(words, string(c.name))
	}
	near, ok := source.Nearest(word, append(words, string(cmdHelp)))
	if ok && len(word) <= shortWord && !strings.HasPrefix(near, word[:1]) {
		return "", false
	}
	return near, ok
}

// shortWord is up to what length a word must share its first letter with the
// one it is taken for: two slips turn any short word into another.
const shortWord = 5
