package paste

// reader is one way a sniffer may have printed a message.
//
// To add one: write its function in a file of its own, add it to the list below
// at the place where it should be tried, put a sample in testdata and a case in
// the table test.
type reader struct {
	name  string
	about string // what it reads, one line
	read  func(text string) (Result, Errors)
}

// readers in the order they are tried: the first that understands the whole
// text is taken; if none does, the one with the fewest errors.
var readers = []reader{
	{"words", "hex words, with or without 0x, separated by blanks, commas, semicolons, brackets or quotes", readWords},
}
