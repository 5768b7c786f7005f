/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Put before the files of the parallel when they are built once more without
 * wide registers: other names, so that both stand in one program. */
#pragma once

#define geo_chain_parallel narrow_chain_parallel
#define geo_cubic_parallel narrow_cubic_parallel
#define geo_cubic_parallel_in narrow_cubic_parallel_in
#define geo_cubic_parallel_spans narrow_cubic_parallel_spans
#define geo_parallel_append_arc narrow_parallel_append_arc
#define geo_parallel_append_arcs narrow_parallel_append_arcs
#define geo_parallel_append_joint narrow_parallel_append_joint
#define geo_parallel_fit narrow_parallel_fit
#define geo_parallel_fit_cubic narrow_parallel_fit_cubic
#define geo_parallel_lay narrow_parallel_lay
#define geo_parallel_lay_one narrow_parallel_lay_one
#define geo_parallel_sample narrow_parallel_sample
#define geo_parallel_source_init narrow_parallel_source_init
#define geo_parallel_zones narrow_parallel_zones
