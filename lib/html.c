/* SPDX-License-Identifier: MIT */
#include "html.h"

#include <string.h>

#include "escape.h"

/* The page forbids itself what it has no need of. */
static const char before_title[] =
    "<!DOCTYPE html>\n"
    "<html lang=\"en\">\n"
    "<head>\n"
    "<meta charset=\"utf-8\">\n"
    "<meta http-equiv=\"Content-Security-Policy\" "
    "content=\"default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; "
    "form-action 'none'\">\n"
    "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
    "<meta name=\"color-scheme\" content=\"light dark\">\n"
    "<title>";

static const char colours[] =
    "</title>\n"
    "<style>\n"
    ":root{color-scheme:light dark;--paper:#fbfaf6;--ink:#1d2421;--soft:#535e58;--rule:#c9cdc4;"
    "--plate:#f1efe6;--for:#1f5c43;--against:#8c2f1d;--open:#6b5310}\n"
    "@media (prefers-color-scheme:dark){:root{--paper:#161a18;--ink:#e6e8e3;--soft:#a9b3ad;"
    "--rule:#3d4642;--plate:#1f2522;--for:#8fd0b0;--against:#f0a391;--open:#dcc27a}}\n";

static const char layout[] =
    "*{box-sizing:border-box}\n"
    "body{margin:0;background:var(--paper);color:var(--ink);overflow-wrap:anywhere;"
    "font:1rem/1.5 Charter,'Bitstream Charter','Iowan Old Style',Georgia,serif}\n"
    "main{max-width:46rem;margin:0 auto;padding:1.5rem 1rem 3rem}\n"
    "h1{font-size:1.5rem;line-height:1.25;margin:0 0 .5rem}\n"
    "h2{font-size:1.1rem;line-height:1.3;margin:2rem 0 .5rem;padding-top:.75rem;"
    "border-top:1px solid var(--rule)}\n"
    "h3{font-size:1rem;margin:1rem 0 .25rem}\n"
    "p{margin:.5rem 0}\n"
    "code{font:600 1em ui-monospace,Menlo,Consolas,'DejaVu Sans Mono',monospace}\n"
    "h1 code{letter-spacing:.08em}\n"
    "small{font-size:.85em;color:var(--soft)}\n"
    "a{color:inherit}\n"
    "cite{font-style:normal}\n"
    "figure{margin:1rem 0;padding:.5rem .75rem;background:var(--plate);"
    "border:1px solid var(--rule);border-radius:.4rem}\n"
    "figure svg{display:block;width:100%;max-width:34rem;height:auto;margin:0 auto}\n"
    "figcaption{font-size:.85rem;color:var(--soft)}\n";

static const char lists[] =
    "table{border-collapse:collapse;table-layout:fixed;width:100%;margin:.75rem 0}\n"
    "th,td{padding:.35rem .6rem .35rem 0;text-align:left;vertical-align:top;"
    "border-bottom:1px solid var(--rule);font-weight:400}\n"
    "thead th{width:23%;font-size:.8rem;color:var(--soft)}\n"
    "thead th:last-child{width:54%}\n"
    "th small{white-space:nowrap}\n"
    "td:last-child{padding-right:0}\n"
    "td p{margin:0 0 .35rem;padding-left:.5rem;border-left:3px solid var(--rule)}\n"
    "td p.practice{border-left-style:dashed}\n"
    "td p.memory{border-left-style:dotted}\n"
    "td small{display:block}\n"
    "td p:last-child{margin:0}\n"
    "ul{margin:.5rem 0;padding-left:1.2rem}\n"
    "li{margin:.4rem 0}\n"
    "li.for,li.against,li.open,li.aside{list-style:none;margin-left:-1.2rem;padding-left:.7rem;"
    "border-left:6px solid var(--rule)}\n"
    "li.for{border-left-color:var(--for)}\n"
    "li.for strong{color:var(--for)}\n"
    "li.against{border-left:6px double var(--against)}\n"
    "li.against strong{color:var(--against)}\n"
    "li.open{border-left:6px dashed var(--open)}\n"
    "li.open strong{color:var(--open)}\n"
    "li.aside{border-left-style:dotted}\n"
    "@media print{:root{--paper:#fff;--ink:#000;--soft:#333;--rule:#999;--plate:#fff;--for:#000;"
    "--against:#000;--open:#000}body{font-size:10.5pt}main{max-width:none;padding:0}"
    "h2,h3{break-after:avoid}li,tr,figure{break-inside:avoid}}\n"
    "</style>\n"
    "</head>\n"
    "<body>\n"
    "<main>\n";

void plwi_html_markup(plwi_writer *out, const char *markup)
{
    plwi_put_text(out, markup);
}

void plwi_html_between(plwi_writer *out, const char *before, const char *text, const char *after)
{
    if (text[0] == '\0')
        return;
    plwi_put_text(out, before);
    plwi_put_escaped(out, text, strlen(text));
    plwi_put_text(out, after);
}

void plwi_html_address(plwi_writer *out, const char *address)
{
    if (plwi_is_web_address(address)) {
        plwi_html_between(out, ", <a rel=\"noreferrer\" href=\"", address, "\">");
        plwi_html_between(out, "", address, "</a>");
    } else {
        plwi_html_between(out, ", ", address, "");
    }
}

void plwi_html_start(plwi_writer *out, const char *title)
{
    plwi_put_text(out, before_title);
    plwi_put_escaped(out, title, strlen(title));
    plwi_put_text(out, colours);
    plwi_put_text(out, layout);
    plwi_put_text(out, lists);
}

void plwi_html_end(plwi_writer *out)
{
    plwi_put_text(out, "</main>\n</body>\n</html>\n");
}
