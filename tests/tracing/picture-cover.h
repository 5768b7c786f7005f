/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Light on the pixels of a made picture: exact covering by polygons, blur, noise. */
#pragma once

#include <glib.h>

#include "geometry/point.h"

/* A share of each pixel, 0 to 1. */
typedef struct
{
  guint width, height;
  float *share; /* height rows of width + 2; differences until it is closed */
} CoverMask;

/* Linear light, three floats a pixel. */
typedef struct
{
  guint width, height;
  float *rgb;
} CoverImage;

CoverMask *cover_mask_new (guint width, guint height);
void cover_mask_free (CoverMask *mask);
void cover_mask_reset (CoverMask *mask);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (CoverMask, cover_mask_free)
/* The integral of x dy. */
double cover_area (const GeoPoint *px, guint n);
/* What a polygon of positive area covers; turned: of negative area. The other way round it takes
 * away. */
void cover_mask_add (CoverMask *mask, const GeoPoint *px, guint n,
                     gboolean turned);
/* After the last polygon. */
void cover_mask_close (CoverMask *mask);
void cover_mask_soften (CoverMask *mask, double sigma);
void cover_mask_cut (CoverMask *mask, const CoverMask *out);

CoverImage *cover_image_new (guint width, guint height, const float rgb[3]);
void cover_image_free (CoverImage *image);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (CoverImage, cover_image_free)
void cover_image_paint (CoverImage *image, const CoverMask *mask,
                        const float rgb[3], double strength);
/* Soft blotches and fine grain of a table's colour. */
void cover_image_grain (CoverImage *image, double share, guint32 seed);
void cover_image_blur (CoverImage *image, double sigma);
/* As sRGB bytes: light falling off towards one corner, and Gaussian noise of the
 * bytes. */
guint8 *cover_image_develop (const CoverImage *image, double light,
                             double noise, guint32 seed);
float cover_linear (double srgb);
