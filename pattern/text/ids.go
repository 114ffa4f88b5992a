package text

// Ids of the problems that reading can find. They are stable: notes, scripts and the
// pages of package findings refer to them.
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
