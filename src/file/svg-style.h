/* SPDX-License-Identifier: GPL-3.0-or-later */
/* As much of CSS as says whether an element is shown: the properties display and
 * visibility, by attribute, style sheet and style attribute, in the cascade's order (CSS 2.1,
 * chapter 6). Selectors: type, *, .class, #id, joined, and of elements inside others or
 * right inside others; rules with other selectors, and @-rules, are passed over. At most 64
 * rules that set one of the two are looked at. */
#pragma once

#include "file/svg-tree.h"

typedef struct _FileSvgStyle FileSvgStyle;

FileSvgStyle *file_svg_style_new (const char *text);
void file_svg_style_free (FileSvgStyle *style);
guint file_svg_style_rules (const FileSvgStyle *style);
/* display: none */
gboolean file_svg_style_gone (const FileSvgStyle *style,
                              const FileSvgNode *node);
/* visibility, where inherited is what the element around it has. */
gboolean file_svg_style_visible (const FileSvgStyle *style,
                                 const FileSvgNode *node, gboolean inherited);
/* What the style attribute itself says of any property, in small letters, or NULL. */
char *file_svg_style_own (const FileSvgNode *node, const char *property);
