/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of the native document that stand for a choice, in the order of their
 * enumerations; each list ends with NULL. */
#pragma once

extern const char *const file_words_unit[];
extern const char *const file_words_cloth_use[];
extern const char *const file_words_press[];
extern const char *const file_words_join[];
extern const char *const file_words_node_kind[];
extern const char *const file_words_edge_kind[];
extern const char *const file_words_corner[];
extern const char *const file_words_corner_by[];
extern const char *const file_words_notch_from[];
extern const char *const file_words_size[];
extern const char *const file_words_yes[]; /* no, yes */
