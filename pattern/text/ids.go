package text

// Ids of the problems that reading can find. They are stable: notes, scripts
// and help pages refer to them.
const (
	IDSize          = "text.size"
	IDMany          = "text.many"
	IDEncoding      = "text.encoding"
	IDReturn        = "text.carriage-return"
	IDByteOrderMark = "text.byte-order-mark"
	IDCharacter     = "text.character"
	IDIndent        = "text.indent"
	IDConflict      = "text.conflict"
	IDVersion       = "text.version"
	IDKind          = "text.kind"
	IDNewer         = "text.newer"
	IDUnknownWord   = "text.unknown-word"
	IDSyntax        = "text.syntax"
	IDNumber        = "text.number"
	IDRange         = "text.range"
	IDName          = "text.name"
	IDQuote         = "text.quote"
	IDDate          = "text.date"
	IDReference     = "text.reference"

	IDRecordTwice   = "record.twice"
	IDRecordMissing = "record.missing"
	IDOutlineOrder  = "outline.order"
	IDOutlineEnd    = "outline.end"
	IDSegmentStray  = "segment.stray"
	IDMarkLine      = "mark.line"
	IDEaseMixed     = "seam.ease-mixed"

	IDNameTwice     = "name.twice"
	IDNameUnknown   = "name.unknown"
	IDNameAmbiguous = "name.ambiguous"
	IDEdgeTwice     = "seam.edge-twice"
	IDAroundApart   = "around.apart"
	IDClosureKind   = "closure.kind"

	IDFileMissing    = "file.missing"
	IDFileSeveral    = "file.several"
	IDFileName       = "file.name"
	IDFileKind       = "file.kind"
	IDFileUnreadable = "file.unreadable"
)

// Explanation says in one line what a problem id means.
type Explanation struct{ ID, Line string }

// Explanations lists every id that this package reports, in the order of
// reading: characters, records, names, files.
func Explanations() []Explanation {
	return []Explanation{
		{IDSize, "The file, or a line of it, is longer than a pattern file may have; what is too long was not read."},
		{IDMany, "The file has so many problems that the rest of it was not read."},
		{IDEncoding, "The file is not UTF-8 text."},
		{IDReturn, "Lines end with a carriage return; they should end with a line feed alone."},
		{IDByteOrderMark, "The file begins with a byte order mark; UTF-8 text needs none."},
		{IDCharacter, "A control or direction character stands in the text; it could hide what the line says."},
		{IDIndent, "Only the segments of an edge or a mark are indented, by two spaces."},
		{IDConflict, "A merge left its conflict markers in the file."},
		{IDVersion, "The first record does not say which kind and version of file this is."},
		{IDKind, "The first record names another kind of file than the file's ending does."},
		{IDNewer, "The file was written by a newer seamkeep, which may say things that this one does not know."},
		{IDUnknownWord, "No record of this kind of file begins with this word."},
		{IDSyntax, "A record lacks a field, has one too many, or has another than its form asks for."},
		{IDNumber, "A number is not plain decimals with at most 3 places, or is larger than 100 000."},
		{IDRange, "A number is well written but makes no sense here, such as a negative length."},
		{IDName, "A name is not a lower-case letter followed by letters, digits and single hyphens."},
		{IDQuote, "Text in double quotes is not closed, is empty, or holds an unknown escape."},
		{IDDate, "A date is not a day of the calendar written as YYYY-MM-DD."},
		{IDReference, "An edge is not written as PIECE.EDGE."},
		{IDRecordTwice, "A record or an option that may stand once stands twice."},
		{IDRecordMissing, "A record that every file of this kind needs is missing."},
		{IDOutlineOrder, "Corners and edges do not take turns round the outline."},
		{IDOutlineEnd, "The segments of an edge do not end, once and last, with \"to corner\"."},
		{IDSegmentStray, "A segment stands under no edge and no mark that could have it."},
		{IDMarkLine, "The line of a mark goes nowhere, or a cutout does not return to its start."},
		{IDEaseMixed, "A seam has ease over its whole length and by zones, or twice over its whole length."},
		{IDNameTwice, "Two things of one kind have the same name."},
		{IDNameUnknown, "A name refers to nothing."},
		{IDNameAmbiguous, "A run and a piece have the same name, so that an allowance could mean either."},
		{IDEdgeTwice, "An edge lies in two seams, or twice in one, without spans that keep apart."},
		{IDAroundApart, "A piece that is apart is listed among those that go round the body."},
		{IDClosureKind, "Buttons, eyelets or a gap belong to another kind of closure."},
		{IDFileMissing, "The folder has no garment file."},
		{IDFileSeveral, "The folder has more than one garment file."},
		{IDFileName, "A file's base name cannot be the name of a piece, a garment or a body."},
		{IDFileKind, "A pattern file is not a plain file, or its ending is unknown."},
		{IDFileUnreadable, "A file or folder could not be read from the disk or from git."},
	}
}
