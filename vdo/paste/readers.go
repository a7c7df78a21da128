package paste

// Reader is one way a sniffer may have printed messages.
//
// To add one: write its function in a file of its own, add it to the list below
// at the place where it should be tried, put a genuine sample in testdata/forms
// (invented values), and run the tests with -update to make its golden outcome.
//
// The function is given the whole text. It says false where the text is not of
// its form at all. Where it is, everything that does not fit the form is a fault
// with its place. It must look at each part of the text a fixed number of times.
type Reader struct {
	Name  string
	About string // what it reads, one line
	read  func(text string) (reading, bool)
}

// Readers lists the readers in the order they are tried: the first that
// understands the whole text is taken; if none does, the one with the fewest
// errors, the first among equals.
func Readers() []Reader { return append([]Reader(nil), readers...) }

var readers = []Reader{
	{"bytes", "hex bytes or 16-bit groups, with or without 0x, separated like words", readBytes},
	{"words", "hex words, with or without 0x, separated by blanks, commas, semicolons, brackets or quotes", readWords},
	{"dump", "a dump of bytes with offsets in front, with or without a column of characters; a port controller's registers", readDump},
	{"printed", "what gainsay decode prints for people", readPrinted},
	{"json", "JSON: words or bytes as decimal, signed or hex; objects with header and data; what gainsay prints with --json", readJSON},
	{"kernel", "the kernel's identity attributes, as path:value or below the file's name, in any order", readKernel},
	{"symbols", "4b5b symbols: K-codes by name, data as hex digits or five bits", readSymbols},
	{"escapes", "escaped byte strings, as \\x8f\\x51, in quotes or bare", readEscapes},
	{"arrays", "arrays of bytes or words as C and scripts write them, with a name and an equals sign", readArrays},
	{"table", "tables with a head, between commas, semicolons or tabs", readTable},
	{"registers", "registers of a port controller's receive buffer, by name or address", readRegisters},
	{"run", "one long run of hex digits on each line: words, or bytes in the order of the wire", readRun},
	{"short-words", "hex words without 0x whose leading zeros were dropped", readShort},
	{"base64", "base64 of a message's bytes", readBase64},
	{"log", "words, bytes or runs of digits behind labels or in log lines", readLog},
}
