/* SPDX-License-Identifier: GPL-3.0-or-later */
typedef int bodkin_pattern_placeholder;
