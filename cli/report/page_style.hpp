// How a report looks: one column from 320 px, printed on A4 and Letter alike.
#pragma once

#include <string_view>

namespace voltfall {

/// Texts 4.5:1 and better on white; content stays within 186 x 255 mm, which both papers hold.
inline constexpr std::string_view page_style = R"css(* { box-sizing: border-box }
html { -webkit-text-size-adjust: 100% }
body { margin: 0; color: #1b1b1b; background: #fff; font: 16px/1.45 "DejaVu Sans", Verdana, Arial, sans-serif }
main { max-width: 64rem; margin: 0 auto; padding: 12px; overflow-wrap: anywhere }
h1 { font-size: 1.4rem; line-height: 1.25; margin: 0 0 .3rem }
h2 { font-size: 1.15rem; margin: 1.8rem 0 .5rem; border-bottom: 2px solid #1b1b1b }
h3 { font-size: 1rem; margin: 1.1rem 0 .3rem }
p { margin: .35rem 0 }
ul { margin: .35rem 0; padding-left: 1.3rem }
.quiet, figcaption, caption { color: #4a4a4a; font-size: .9rem; text-align: left }
.caution { border-left: 6px solid #D55E00; padding: .3rem 0 .3rem .8rem; margin: .6rem 0 }
.caution li { margin: .15rem 0 }
.good { border-left: 6px solid #009E73; padding-left: .8rem; font-weight: bold }
.bad { border-left: 6px solid #D55E00; padding-left: .8rem; font-weight: bold }
.suspect { margin: .5rem 0 .8rem }
.suspect p { margin: 0 }
.bar { height: 12px; border: 1px solid #1b1b1b; margin: .15rem 0; max-width: 30rem }
.bar i { display: block; height: 100%; background: #0072B2; -webkit-print-color-adjust: exact; print-color-adjust: exact }
.test { border: 1px solid #8a8a8a; padding: .5rem .7rem; margin: .7rem 0; break-inside: avoid }
.test h3 { margin-top: 0 }
@media (min-width: 56rem) { .tests { display: grid; grid-template-columns: repeat(3, minmax(0, 1fr)); gap: .7rem } .test { margin: 0 } }
.blank { display: flex; gap: .5rem; margin-top: .8rem; white-space: nowrap }
.blank span { flex: 1; border-bottom: 1px solid #1b1b1b; min-width: 3rem }
.scroll, .wide { overflow-x: auto; max-width: 100% }
.scroll:focus, .wide:focus { outline: 2px solid #0072B2 }
table { border-collapse: collapse; margin: .5rem 0; font-size: .9rem }
th, td { text-align: left; vertical-align: top; padding: .2rem .55rem .2rem 0; border-bottom: 1px solid #c4c4c4; overflow-wrap: normal }
td.s { white-space: nowrap }
td.n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap }
form { margin: .6rem 0 }
label { display: block; font-weight: bold; margin: .4rem 0 }
input { display: block; width: 100%; max-width: 30rem; min-height: 48px; font: inherit; font-size: 1.2rem; padding: .3rem .6rem; border: 2px solid #1b1b1b; border-radius: 4px }
button { min-height: 48px; min-width: 64px; font: inherit; font-size: 1.05rem; padding: .4rem .9rem; margin: .25rem .35rem .25rem 0; border: 2px solid #1b1b1b; border-radius: 4px; background: #eef3f8; color: #1b1b1b }
button.main { background: #0a4f7d; color: #fff }
select { min-height: 48px; flex: 1; max-width: 16rem; font: inherit; font-size: 1.1rem; padding: .3rem .5rem; border: 2px solid #1b1b1b; border-radius: 4px; background: #fff; color: #1b1b1b }
label.choice { display: flex; align-items: center; gap: .6rem }
label.choice span { min-width: 4.5rem }
input:focus, select:focus, button:focus { outline: 3px solid #D55E00 }
.card { border: 2px solid #1b1b1b; border-radius: 6px; padding: .8rem; margin: .8rem 0 }
.card h2 { border: 0; margin: 0 0 .3rem; font-size: 1.3rem }
a.way { display: inline-block; min-height: 48px; padding: .7rem .9rem; border: 2px solid #1b1b1b; border-radius: 4px; background: #eef3f8; color: #1b1b1b; text-decoration: none }
a.way:focus { outline: 3px solid #D55E00 }
iframe.news { display: block; width: 100%; height: 6rem; border: 0 }
pre { margin: .5rem 0; white-space: pre-wrap; overflow-wrap: anywhere; font: .85rem/1.4 "DejaVu Sans Mono", Menlo, Consolas, monospace }
.address { font-weight: bold; overflow-wrap: anywhere }
.told { border-left: 6px solid #0072B2; padding-left: .8rem }
figure { margin: .6rem 0 }
.fit svg { width: 100%; height: auto; display: block }
.wide > div { position: relative; display: inline-block }
.wide svg { display: block; height: auto; max-width: none }
.middle { position: absolute; top: 0; left: calc(50% - 45vw); width: 90vw; height: 1px; pointer-events: none; scroll-initial-target: nearest }
@media (max-width: 40rem) { .fit { overflow-x: auto } .fit svg { min-width: 22rem } }
@media (min-width: 40rem) { .fit svg { max-width: 34rem } .middle { display: none } }
@page { size: auto; margin: 12mm 12mm 15mm }
@media print {
  body { font-size: 10.5pt }
  main { max-width: none; padding: 0 }
  .plan figure { display: none }
  .sheet { font-size: 9.5pt }
  .sheet.whole { break-after: page }
  .sheet td, .sheet th { padding-top: .1rem; padding-bottom: .1rem }
  .sheet h2 { margin: .9rem 0 .3rem }
  .sheet .suspect { margin: .25rem 0 .4rem }
  .sheet .bar { height: 9px }
  .tests { display: grid; grid-template-columns: repeat(3, minmax(0, 1fr)); gap: 3mm }
  .test { margin: 0; padding: 2mm }
  .test table { width: 100%; table-layout: fixed }
  .test td { white-space: normal; overflow-wrap: break-word }
  .scroll, .wide { overflow: visible }
  .wide > div { display: block }
  .pieces { display: flex; flex-wrap: wrap; justify-content: center; gap: 0 6mm }
  .pieces figure { max-width: 100% }
  .middle { display: none }
  .wide svg { max-width: 100%; max-height: 205mm; margin: 0 auto }
  .fit svg { max-width: 120mm }
  .fuse { display: grid; grid-template-columns: 98mm 1fr; column-gap: 5mm; break-inside: avoid }
  .fuse .fit svg { max-width: 98mm }
  .fuse h2 { grid-column: 1 / -1 }
  .fuse td, .fuse th { padding-top: .05rem; padding-bottom: .05rem }
  figure, tr, .suspect, .caution, .kept { break-inside: avoid }
  h2, h3, caption, h2 + .quiet { break-after: avoid }
  thead { display: table-header-group }
}
)css";

}  // namespace voltfall
