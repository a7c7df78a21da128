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
	Name  string // as ReadAs takes it
	About string // what it reads, one line
	read  func(text string) (reading, bool)
	loose bool // passes over what it does not know
	bare  bool // takes any text, if only to say what is wrong with it
}

// Readers lists the readers in the order they are tried: the first that
// understands the whole text is taken. If none does, the one that finds most, and
// of several the one with the fewest errors.
func Readers() []Reader { return append([]Reader(nil), readers...) }

var readers = []Reader{
	{Name: "bytes", read: readBytes,
		About: "hex bytes or 16-bit groups, with or without 0x, separated like words"},
	{Name: "words", read: readWords, bare: true,
		About: "hex words, with or without 0x, separated by blanks, commas, semicolons, brackets or quotes; a PD message header of 4 digits and a CRC may stand around them"},
	{Name: "printed", read: readPrinted,
		About: "what gainsay decode prints for people"},
	{Name: "json", read: readJSON,
		About: "JSON: words or bytes as decimal, signed or hex; objects with header and data; what gainsay prints with --json"},
	{Name: "kernel", read: readKernel,
		About: "the kernel's identity attributes, as path:value or below the file's name, in any order"},
	{Name: "symbols", read: readSymbols,
		About: "4b5b symbols: K-codes by name, data as hex digits or five bits"},
	{Name: "escapes", read: readEscapes,
		About: `escaped byte strings, as \x8f\x51, in quotes or bare`},
	{Name: "arrays", read: readArrays,
		About: "arrays of bytes or words as C and scripts write them, with a name and an equals sign"},
	{Name: "table", read: readTable,
		About: "tables with a head, between commas, semicolons or tabs"},
	{Name: "registers", read: readRegisters,
		About: "registers of a port controller's receive buffer, by name or address"},
	{Name: "dump", read: readDump,
		About: "a dump of bytes with offsets in front, with or without a column of characters; a port controller's registers"},
	{Name: "run", read: readRun,
		About: "one long run of hex digits on each line: words, or bytes in the order of the wire"},
	{Name: "short-words", read: readShort,
		About: "hex words without 0x whose leading zeros were dropped"},
	{Name: "decimal", read: readDecimal,
		About: "decimal or signed decimal words, or decimal bytes, believed where they make a message"},
	{Name: "base64", read: readBase64,
		About: "base64 of a message's bytes"},
	{Name: "log", read: readLog, loose: true,
		About: "words, bytes or runs of digits behind labels or in log lines"},
}
