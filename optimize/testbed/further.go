package testbed

// Further returns problems that the search was not set on: they show whether what it does
// holds elsewhere. Their parameters are those of the papers, but for the numbers of variables
// and evaluations, which are kept small.
//
// Sources: those of the package; FON, CONSTR and OSY from Deb (2001), ch. 8; CTP from Deb,
// Pratap, Meyarivan, EMO 2001; MW from Ma and Wang, IEEE Trans. Evol. Comput. 23 (2019) 972;
// UF from Zhang et al., CEC 2009 competition; WFG from Huband, Hingston, Barone, While, IEEE
// Trans. Evol. Comput. 10 (2006) 477; inverted, C1 and C2 from Jain and Deb, IEEE Trans.
// Evol. Comput. 18 (2014) 602; all recalled.
func Further() []Case {
	all := append(furtherTwo(), furtherThree()...)
	return append(all, furtherMany()...)
}

func furtherTwo() []Case {
	all := []Case{
		{ZDT6(), 25000, 100},
		{FON(), 25000, 100},
		{CONSTR(), 25000, 100},
		{OSY(), 25000, 100},
		{MW1(), 60000, 100},
		{MW2(), 60000, 100},
		{MW3(), 60000, 100},
		{MW7(), 60000, 100},
		{UF1(), 100000, 100},
		{UF2(), 100000, 100},
		{UF4(), 100000, 100},
		{UF7(), 100000, 100},
		{WFG1(), 100000, 100},
		{WFG2(), 25000, 100},
		{ZDT1Turned(), 25000, 100},
		{OSYTurned(), 25000, 100},
	}
	for number := 2; number < len(ctpEdges); number++ {
		all = append(all, Case{CTP(number), 25000, 100})
	}
	for number := 4; number < len(wfgRules); number++ {
		all = append(all, Case{WFG(number, 2), 25000, 100})
	}
	return all
}

func furtherThree() []Case {
	all := []Case{
		{DTLZ4(3), 36800, 92},
		{DTLZ5(), 36800, 92},
		{DTLZ6(), 36800, 92},
		{DTLZ7(), 36800, 92},
		{DTLZ1Inverted(3), 36800, 92},
		{DTLZ2Scaled(3, 10), 36800, 92},
		{C1DTLZ1(3), 36800, 92},
		{C2DTLZ2(), 36800, 92},
	}
	for number := 4; number < len(wfgRules); number++ {
		all = append(all, Case{WFG(number, 3), 36800, 92})
	}
	return all
}

func furtherMany() []Case {
	return []Case{
		{DTLZ2(4), 50000, 120},
		{DTLZ1(5), 60000, 126},
		{DTLZ2(5), 60000, 126},
		{DTLZ3(5), 80000, 126},
		{DTLZ4(5), 60000, 126},
		{DTLZ1Inverted(5), 60000, 126},
		{WFG(4, 5), 60000, 126},
		{DTLZ2(8), 80000, 156},
	}
}
