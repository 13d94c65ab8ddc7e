// What every page must hold to, asked of the browser that shows it.
#pragma once

#include <string>
#include <vector>

#include "tests/support/browser.hpp"

namespace voltfall::testing {

/// Elements that stick out of a screen of this width sideways; empty where none does.
inline std::vector<std::string> sideways(Browser& browser) {
    return browser
        .run(
            "const over = []; const wide = document.documentElement.clientWidth;"
            "if (document.documentElement.scrollWidth > wide) over.push('page ' + "
            "document.documentElement.scrollWidth);"
            "return over")
        .get<std::vector<std::string>>();
}

/// Buttons, fields and links smaller than 44 CSS pixels (WCAG 2.1, 2.5.5).
inline std::vector<std::string> small_targets(Browser& browser) {
    return browser
        .run(
            "return [...document.querySelectorAll('button, select, input:not([type=hidden]), a')].map(e => [e, "
            "e.getBoundingClientRect()]).filter(([e, r]) => r.height < 44 || r.width < 44).map(([e, r]) => "
            "e.outerHTML.slice(0, "
            "80) + ' ' + r.width + 'x' + r.height)")
        .get<std::vector<std::string>>();
}

/// Texts whose contrast to what lies behind them is less than 4.5 (WCAG 2.1, 1.4.3).
inline std::vector<std::string> faint_texts(Browser& browser) {
    return browser
        .run(R"js(
const parts = c => (c.match(/[\d.]+/g) || []).map(Number);
const light = c => { const f = c.slice(0, 3).map(v => v / 255).map(v => v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
                     return 0.2126 * f[0] + 0.7152 * f[1] + 0.0722 * f[2]; };
const behind = e => { for (; e; e = e.parentElement) { const c = parts(getComputedStyle(e).backgroundColor);
                      if (c.length === 3 || (c.length === 4 && c[3] > 0)) return c; } return [255, 255, 255]; };
const faint = [];
for (const e of document.querySelectorAll('body *')) {
  if (e.closest('svg')) continue;
  if (![...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim())) continue;
  const a = light(parts(getComputedStyle(e).color)), b = light(behind(e));
  const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  if (ratio < 4.5) faint.push(ratio.toFixed(2) + ' ' + e.outerHTML.slice(0, 80));
}
return faint)js")
        .get<std::vector<std::string>>();
}

/// Fields without a name that a screen reader can say, and pictures without one.
inline std::vector<std::string> unnamed(Browser& browser) {
    return browser
        .run(
            "return [...document.querySelectorAll('input:not([type=hidden])')].filter(e => !e.labels || "
            "!e.labels.length).concat([...document.querySelectorAll('iframe')].filter(e => !e.title)).map(e => "
            "e.outerHTML.slice(0, 80))")
        .get<std::vector<std::string>>();
}

/// Figures that no sheet of A4 or Letter holds: wider than 186 mm or taller than 255 mm as they are printed.
inline std::vector<std::string> cut_on_paper(Browser& browser) {
    browser.as_printed(true);
    browser.resize(703, 1000);  // 186 mm at 96 dots an inch
    const auto cut =
        browser
            .run(
                "return [...document.querySelectorAll('figure, table, .test, .suspect')].map(e => [e, "
                "e.getBoundingClientRect()]).filter(([e, r]) => r.width > 1 && (r.right > 704 || (e.tagName !== "
                "'TABLE' && r.height > 964))).map(([e, r]) => e.tagName + ' ' + e.className + ' ' + "
                "Math.round(r.right) + 'x' + Math.round(r.height) + ' ' + e.textContent.slice(0, 40))")
            .get<std::vector<std::string>>();
    browser.as_printed(false);
    return cut;
}

}  // namespace voltfall::testing
