package grammar

import "github.com/alecthomas/participle/v2/lexer"

// dayWords are the words of days, weeks and months.
var dayWords = []struct {
	kind lexer.TokenType
	said
}{
	{dayKind, said{"yesterday", []string{"yesterday", "ayer", "hier"}}},
	{dayKind, said{"today", []string{"today", "hoy", "aujourd'hui"}}},
	{dayKind, said{"tomorrow", []string{"tomorrow", "tmrw", "tmr", "tomoro", "tomorow", "tommorow", "manana", "demain"}}},
	{periodKind, said{"day", []string{"day"}}},
	{periodKind, said{"week", []string{"week"}}},
	{periodKind, said{"month", []string{"month"}}},
	{periodKind, said{"year", []string{"year"}}},
	{agoKind, said{"ago", []string{"ago", "hace", "il y a"}}},
	{sinceKind, said{"since", []string{"since", "desde", "desde el", "depuis", "depuis le"}}},
	{untilKind, said{"until", []string{"until", "untill", "till", "til", "hasta", "hasta el", "jusqu'a", "jusqu'au"}}},
	{clockKind, said{"12:00", []string{"noon", "midday", "mediodia", "midi"}}},
	{lapseKind, said{"last week", []string{"semana pasada", "la semana pasada", "semaine derniere", "la semaine derniere"}}},
	{lapseKind, said{"last month", []string{"mes pasado", "el mes pasado", "mois dernier", "le mois dernier"}}},
	{lapseKind, said{"last year", []string{"ano pasado", "el ano pasado", "annee derniere", "l'annee derniere", "an dernier", "l'an dernier"}}},
	{lapseKind, said{"this week", []string{"esta semana", "cette semaine"}}},
	{lapseKind, said{"this year", []string{"este ano", "cette annee"}}},
	{lapseKind, said{"this month", []string{"este mes", "ce mois", "ce mois ci"}}},
	{formerKind, said{"last", []string{"pasado", "dernier"}}},
	{partKind, said{"now", []string{"just now", "right now", "ahora mismo", "a l'instant"}}},
	{partKind, said{"part", []string{"this morning", "this afternoon", "this evening", "last night", "last nite", "tonight", "tonite", "esta manana", "esta tarde", "anoche", "ce matin", "cet apres midi", "ce soir", "cette nuit"}}},
	{weekdayKind, said{"sunday", []string{"sunday", "sun", "domingo", "dimanche"}}},
	{weekdayKind, said{"monday", []string{"monday", "mon", "lunes", "lundi"}}},
	{weekdayKind, said{"tuesday", []string{"tuesday", "tue", "tues", "martes", "mardi"}}},
	{weekdayKind, said{"wednesday", []string{"wednesday", "wed", "weds", "miercoles", "mercredi"}}},
	{weekdayKind, said{"thursday", []string{"thursday", "thu", "thur", "thurs", "jueves", "jeudi"}}},
	{weekdayKind, said{"friday", []string{"friday", "fri", "viernes", "vendredi"}}},
	{weekdayKind, said{"saturday", []string{"saturday", "sat", "sabado", "samedi"}}},
	{monthKind, said{"january", []string{"january", "jan", "enero", "janvier"}}},
	{monthKind, said{"february", []string{"february", "feb", "febrero", "fevrier"}}},
	{monthKind, said{"march", []string{"march", "marzo", "mars"}}},
	{monthKind, said{"april", []string{"april", "apr", "abril", "avril"}}},
	{monthKind, said{"may", []string{"may", "mayo", "mai"}}},
	{monthKind, said{"june", []string{"june", "jun", "junio", "juin"}}},
	{monthKind, said{"july", []string{"july", "jul", "julio", "juillet"}}},
	{monthKind, said{"august", []string{"august", "aug", "agosto", "aout"}}},
	{monthKind, said{"september", []string{"september", "sep", "sept", "septiembre", "septembre"}}},
	{monthKind, said{"october", []string{"october", "oct", "octubre", "octobre"}}},
	{monthKind, said{"november", []string{"november", "nov", "noviembre", "novembre"}}},
	{monthKind, said{"december", []string{"december", "dec", "diciembre", "decembre"}}},
}
