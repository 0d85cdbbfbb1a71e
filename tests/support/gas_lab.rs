//! A lab that works an amount of gas by one expression.

use gramleaf::working::State;

use crate::support;

/// The state of `amount`, a quantity worked from a volume, a temperature and a pressure, in a language. `nothing` is always zero.
pub(crate) fn amount(
    language: &str,
    expression: &str,
    volume: &str,
    celsius: &str,
    pressure: &str,
) -> State {
    let lab = format!(
        r#"
id = "gas"
language = "{language}"
title = "Gas"
equation = "Mg(s) + 2 HCl(aq) -> MgCl2(aq) + H2(g)"
[ask]
amount = true
[substance.magnesium]
formula = "Mg"
before = "excess"
[substance.acid]
formula = "HCl"
before = "excess"
[find.nothing]
title = "nothing"
value = "volume - volume"
[find.amount]
title = "moles of gas"
value = "{expression}"
[instrument.tube]
unit = "mL"
tolerance = "0.1 mL"
[instrument.thermometer]
unit = "°C"
tolerance = "0.1 °C"
[instrument.barometer]
unit = "kPa"
tolerance = "0.1 kPa"
[day.1]
title = "All"
readings = [
  {{ name = "volume", label = "volume", unit = "mL" }},
  {{ name = "celsius", label = "temperature", unit = "°C" }},
  {{ name = "pressure", label = "pressure", unit = "kPa" }},
]
"#
    );
    let data = format!(
        "[who]\nlab = \"gas\"\ngroup = \"1-01\"\n[day.1]\nvolume = \"{volume}\"\ncelsius = \"{celsius}\"\npressure = \"{pressure}\"\n"
    );
    support::worked(&lab, &data, |_, graph, _, worked| {
        worked.state(graph.find("amount").unwrap()).clone()
    })
}
