package lesson

import "strings"

// headerWords are the ordinary words for our measures in a few languages,
// without accents: English, German, French, Spanish, Italian, Dutch, Swedish,
// Portuguese. They are words of the game and of speech, not anybody's file
// format; a proposal made with them is for its reader to correct.
var headerWords = phrases(`
	pupil: pupil, player, student, golfer, spieler, schuler, schueler, joueur, eleve, jugador, alumno, giocatore, allievo, speler, leerling, spelare, elev, jogador, aluno
	session: session, lesson, visit, sitzung, stunde, seance, sesion, sessione, sessie, sessao
	time: time, date, date and time, datetime, timestamp, zeit, uhrzeit, datum, zeitpunkt, heure, fecha, hora, ora, data, tijd, tid
	place: place, location, bay, ort, lieu, lugar, luogo, plaats, plats
	surface: surface, lie, mat, untergrund, superficie, ondergrond, underlag
	ball: ball, ball type, balltyp, balle, bola, palla, pelota, bal, boll
	stage: stage, phase, block, abschnitt, etape, fase, blocco
	intent: intent, intention, absicht, intencion
	club: club, club name, club type, club used, golf club, schlager, schlaeger, baton, palo, bastone, stok, klubba, taco
	target_carry: target carry, target distance, zielweite, zielentfernung
	target_side: target side
	expect: expect, expected, expectation, erwartung
	feel: feel, feeling, gefuhl, gefuehl, sensation, sensacion, gevoel, kansla
	note: note, notes, comment, comments, remark, remarks, bemerkung, bemerkungen, notiz, kommentar, commentaire, remarque, comentario, nota, opmerking
	club_speed: club speed, club head speed, clubhead speed, schlagerkopfgeschwindigkeit, schlagergeschwindigkeit, vitesse de club, vitesse du club, velocidad del palo, velocidad de palo, velocita bastone, clubsnelheid, klubbhastighet, velocidade do taco
	path_deg: path, club path, swing path, schwungbahn
	face_deg: face, face angle, club face, schlagflache
	approach_deg: approach angle, attack angle, angle of attack, angle of approach, eintreffwinkel, angle d attaque, angulo de ataque
	loft_deg: loft, dynamic loft
	ball_speed: ball speed, ballgeschwindigkeit, vitesse de balle, vitesse de la balle, velocidad de bola, velocidad de la bola, velocita palla, velocita della palla, balsnelheid, bollhastighet, velocidade da bola
	start_line_deg: start line, start direction, launch direction, startrichtung, direction de depart, direccion de salida
	launch_deg: launch, launch angle, abflugwinkel, startwinkel, angle de depart, angle de lancement, angulo de salida, angulo de lanzamiento, angolo di lancio, lanceerhoek
	spin_rpm: spin, spin rate, backspin, back spin, drall, vitesse de rotation, giro
	spin_tilt_deg: spin tilt, spin axis, tilt, drallachse, axe de rotation, eje de giro
	apex: apex, height, max height, maximum height, peak height, hohe, hoehe, flughohe, flughoehe, scheitelhohe, hauteur, hauteur max, altura, altura maxima, altezza, altezza massima, hoogte, hojd
	descent_deg: descent angle, landing angle, angle of descent, landewinkel, angle de descente, angle d atterrissage, angulo de caida, angolo di discesa
	flight_s: flight time, hang time, time of flight, flugzeit, flugdauer, temps de vol, tiempo de vuelo, tempo di volo
	carry: carry, carry distance, carry length, flugweite, carryweite, portee, vuelo, volo, draagafstand, flyglangd, voo
	side: side, sideways, offline, off line, lateral, side distance, lateral distance, deviation, side deviation, seite, seitlich, seitenabweichung, seitliche abweichung, abweichung, ecart, ecart lateral, lateralement, desviacion, desviacion lateral, lado, laterale, deviazione, scarto laterale, zijwaarts, afwijking, sida, sidoavvikelse, avvikelse, desvio, desvio lateral
	total: total, total distance, gesamtweite, gesamtlange, gesamt, distance totale, total length, distancia total, distanza totale, totale, totaal, totalt, totallangd`)

// phrases turns lines of "measure: phrase, phrase" into phrase to measure.
func phrases(lines string) map[string]string {
	words := map[string]string{}
	for line := range strings.SplitSeq(strings.TrimSpace(lines), "\n") {
		measure, all, _ := strings.Cut(strings.TrimSpace(line), ": ")
		for phrase := range strings.SplitSeq(all, ", ") {
			words[phrase] = measure
		}
	}
	return words
}

// fold returns a text in lower case and without accents.
func fold(text string) string { return unaccent.Replace(strings.ToLower(text)) }

var unaccent = strings.NewReplacer(
	"ä", "a", "à", "a", "á", "a", "â", "a", "ã", "a", "å", "a", "ç", "c", "é", "e", "è", "e", "ê", "e", "ë", "e",
	"í", "i", "ì", "i", "î", "i", "ï", "i", "ñ", "n", "ö", "o", "ó", "o", "ò", "o", "ô", "o", "õ", "o",
	"ü", "u", "ú", "u", "ù", "u", "û", "u", "ß", "ss")

// headerPhrase returns a header's words without its unit, to be looked up in
// headerWords.
func headerPhrase(written string) string {
	rest, _ := cutBracket(written)
	words := strings.Split(joinWords(fold(rest)), "_")
	if n := len(words); n > 1 && unitWords[words[n-1]] != "" { // "carry yd"
		words = words[:n-1]
	}
	return strings.Join(words, " ")
}
