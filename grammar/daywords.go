package grammar

import "github.com/alecthomas/participle/v2/lexer"

// dayWords are the words of days, weeks and months.
var dayWords = []struct {
	kind lexer.TokenType
	said
}{
	{dayKind, said{"yesterday", []string{"yesterday"}}},
	{dayKind, said{"today", []string{"today"}}},
	{dayKind, said{"tomorrow", []string{"tomorrow"}}},
	{periodKind, said{"day", []string{"day"}}},
	{periodKind, said{"week", []string{"week"}}},
	{periodKind, said{"month", []string{"month"}}},
	{periodKind, said{"year", []string{"year"}}},
	{agoKind, said{"ago", []string{"ago"}}},
	{weekdayKind, said{"sunday", []string{"sunday", "sun"}}},
	{weekdayKind, said{"monday", []string{"monday", "mon"}}},
	{weekdayKind, said{"tuesday", []string{"tuesday", "tue", "tues"}}},
	{weekdayKind, said{"wednesday", []string{"wednesday", "wed"}}},
	{weekdayKind, said{"thursday", []string{"thursday", "thu", "thur", "thurs"}}},
	{weekdayKind, said{"friday", []string{"friday", "fri"}}},
	{weekdayKind, said{"saturday", []string{"saturday", "sat"}}},
	{monthKind, said{"january", []string{"january", "jan"}}},
	{monthKind, said{"february", []string{"february", "feb"}}},
	{monthKind, said{"march", []string{"march"}}},
	{monthKind, said{"april", []string{"april", "apr"}}},
	{monthKind, said{"may", []string{"may"}}},
	{monthKind, said{"june", []string{"june", "jun"}}},
	{monthKind, said{"july", []string{"july", "jul"}}},
	{monthKind, said{"august", []string{"august", "aug"}}},
	{monthKind, said{"september", []string{"september", "sep", "sept"}}},
	{monthKind, said{"october", []string{"october", "oct"}}},
	{monthKind, said{"november", []string{"november", "nov"}}},
	{monthKind, said{"december", []string{"december", "dec"}}},
}
