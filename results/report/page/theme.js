// Colours come from the style sheet, which has them for light, dark and paper. A canvas needs their values.
const T = {};
const kindColours = 7, chosenDashes = ["", "9 4", "2 4", "9 4 2 4"], most = 4; // forks selected at once
const chosenColour = i => `var(--c${i % most})`;

function readTheme() {
  const style = getComputedStyle(document.documentElement), of = name => style.getPropertyValue("--" + name).trim();
  for (const name of ["paper", "card", "away", "tel"]) T[name] = of(name);
  T.kinds = Array.from({length: kindColours}, (_, i) => of("k" + i)); // distinguishable with colour vision deficiency (Okabe and Ito 2008)
  T.chosen = Array.from({length: most}, (_, i) => of("c" + i));
}
