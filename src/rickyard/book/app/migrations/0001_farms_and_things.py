"""Who acts, farms and their seasons, what a farm has, its reports, files as they came."""

from __future__ import annotations

from typing import ClassVar

from django.db import migrations, models

from rickyard.book.steps import columns, guarded, once, table, to


class Migration(migrations.Migration):
    """Who acts, farms and their seasons, what a farm has, its reports, files as they came."""

    dependencies: ClassVar[list[tuple[str, str]]] = []

    operations: ClassVar = [
        table(
            "Person",
            columns("name:text email:text= version:count=1"),
        ),
        table(
            "Farm",
        ),
        table(
            "TrailLine",
            to("farm", "Farm", unknown=True),
            columns("number:whole"),
            to("person", "Person", unknown=True),
            columns("service:text about:text= at:time"),
            rules=[once("book_trail_once", "farm", "number")],
        ),
        table(
            "Office",
            to("written_by", "TrailLine"),
            columns("name:text"),
        ),
        table(
            "Membership",
            to("written_by", "TrailLine"),
            to("person", "Person"),
            to("farm", "Farm", unknown=True),
            to("office", "Office", unknown=True),
            columns("role:text revision:count counts:flag=yes"),
            rules=[
                models.CheckConstraint(
                    condition=models.Q(farm__isnull=False) | models.Q(office__isnull=False),
                    name="book_membership_of_something",
                ),
                models.UniqueConstraint(
                    fields=["person", "farm", "office", "revision"],
                    name="book_membership_once",
                    nulls_distinct=False,
                ),
            ],
        ),
        table(
            "FarmState",
            to("written_by", "TrailLine"),
            to("thing", "Farm", back="states"),
            columns(
                """
                revision:count time_zone:text= name:text place:text=
                units:text=us note:text= country:text=
                """
            ),
            rules=[once("book_farm_once", "thing", "revision")],
        ),
        table(
            "Season",
            to("written_by", "TrailLine"),
            to("farm", "Farm", back="seasons"),
            to("after", "Season", unknown=True),
        ),
        table(
            "SeasonState",
            to("written_by", "TrailLine"),
            to("thing", "Season", back="states"),
            columns(
                """
                revision:count start:day end:day period_days:whole=7
                rainfall_mm_per_year:number? carry_over_value_pct:number=90.0
                least_forage_pct_bw:number? intake_calibrated:flag=yes
                acclimatise:flag=no cold_rule:text=none wind_chill:text=cattle
                winter:text=as_given intake_by_weather:flag=no
                maintenance_by_condition:flag=no least_ca_to_p:number?
                grain_on_hay:flag=yes simpler_for_pct:number=0.0
                hays_at_once:whole? least_run_days:whole?
                rations_at_most:whole? least_ration_days:whole?
                things_in_ration:whole? change_usd:number=0.0
                least_serving_pct_bw:number=0.25 reserve_days:number?
                cash_limit_usd:number? assurance_pct:number?
                water_sulfate_ppm:number? winter_known_on:day?
                mild_chance_pct:number=25.0 severe_chance_pct:number=25.0
                late_price_pct:number=0.0 weighed_on:day?
                intake_pct:number=100.0
                """
            ),
            rules=[once("book_season_once", "thing", "revision")],
        ),
        table(
            "Lot",
            to("written_by", "TrailLine"),
            to("farm", "Farm"),
        ),
        table(
            "LotState",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            columns("revision:count place:count day:day? counts:flag=yes"),
            to("thing", "Lot", back="states"),
            columns(
                """
                lot_id:text name:text forage:text package:text storage:text
                bales:number baled_on:day counted_on:day species:text=
                field_name:text= cutting:whole? wrap:text?
                bale_weight_kg:number? bale_diameter_m:number?
                bale_width_m:number? bale_length_m:number?
                bale_height_m:number? dm_pct:number? value_usd_per_kg:number?
                rained_on:flag? drought:flag? frosted:flag?
                highest_temperature_c:number? feed_by:day? feed_from:day?
                note:text= heavy_nitrogen:flag? flooded:flag? weedy:flag?
                preservative:text= baled_moisture_pct:number?
                bales_weighed:whole? bale_weight_sd_kg:number?
                bales_reachable:number? maturity:text? sale_usd_per_kg:number?
                """
            ),
            rules=[once("book_lot_once", "season", "thing", "revision")],
        ),
        table(
            "Group",
            to("written_by", "TrailLine"),
            to("farm", "Farm"),
        ),
        table(
            "GroupState",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            columns("revision:count place:count day:day? counts:flag=yes"),
            to("thing", "Group", back="states"),
            columns(
                """
                group_id:text name:text animal_class:text head:whole
                weight_kg:number weight_is_shrunk:flag=no
                mature_weight_kg:number? finish_weight_kg:number?
                condition_score:number? sex:text? age_months:number?
                calving_on:day? weaning_on:day? breeding_on:day?
                peak_milk_kg_per_day:number? calf_birth_weight_kg:number?
                gain_kg_per_day:number? target_weight_kg:number?
                target_on:day? activity_factor:number? breed_factor:number?
                feeder:text? feeding_loss_pct:number? from_on:day? to_on:day?
                least_forage_pct_bw:number? breed:text? crossed_with:text?
                calving_spread_days:whole? target_condition_score:number?
                coat:text? hide:text? mud:text? mud_depth_cm:number?
                windbreak:flag=no panting:text? young:number? work:text?
                note:text= hays_at_once:whole? assurance_pct:number?
                feed_every_days:whole? change_over_days:whole? care:text?
                offered:text?
                """
            ),
            rules=[once("book_group_once", "season", "thing", "revision")],
        ),
        table(
            "Feed",
            to("written_by", "TrailLine"),
            to("farm", "Farm"),
        ),
        table(
            "FeedState",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            columns("revision:count place:count day:day? counts:flag=yes"),
            to("thing", "Feed", back="states"),
            columns(
                """
                feed_id:text name:text kind:text price_usd_per_kg:number
                table_id:text= dm_pct:number? tdn_pct:number? cp_pct:number?
                ndf_pct:number? ca_pct:number? p_pct:number?
                nitrate_no3n_ppm:number? npn_cp_pct:number? most_kg:number?
                most_kg_per_head_day:number? least_kg_per_head_day:number?
                feeding_loss_pct:number? bale_weight_kg:number?
                copper_ppm:number? ionophore:flag? note:text=
                starch_pct:number? fat_pct:number? sulfur_pct:number?
                from_on:day? to_on:day? load_kg:number? magnesium_pct:number?
                selenium_ppm:number? vitamin_a_iu_per_kg:number?
                vitamin_e_iu_per_kg:number? same_as:text=
                """
            ),
            rules=[once("book_feed_once", "season", "thing", "revision")],
        ),
        table(
            "Report",
            to("written_by", "TrailLine"),
            to("farm", "Farm"),
        ),
        table(
            "ReportState",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            columns("revision:count place:count day:day? counts:flag=yes"),
            to("thing", "Report", back="states"),
            to("lot", "Lot"),
            columns(
                """
                report_id:text sampled_on:day? reported_on:day? lab:text=
                lab_no:text= tdn_method:text= cores:whole? source:text=
                """
            ),
            rules=[once("book_report_once", "season", "thing", "revision")],
        ),
        table(
            "ReportValue",
            to("written_by", "TrailLine"),
            to("report", "ReportState", back="values"),
            columns(
                """
                place:count name:text value:number? unit:text basis:text
                method:text= text:text= censored:text=
                """
            ),
            rules=[once("book_value_once", "report", "name")],
        ),
        table(
            "SourceFile",
            to("written_by", "TrailLine"),
            to("farm", "Farm"),
            columns("name:text sha256:text content:bytes"),
            rules=[once("book_file_once", "farm", "name", "sha256")],
        ),
        table(
            "SeasonText",
            to("written_by", "TrailLine"),
            to("season", "Season"),
            to("source", "SourceFile"),
        ),
        guarded(
            "Farm",
            "TrailLine",
            "Office",
            "Membership",
            "FarmState",
            "Season",
            "SeasonState",
            "Lot",
            "LotState",
            "Group",
            "GroupState",
            "Feed",
            "FeedState",
            "Report",
            "ReportState",
            "ReportValue",
            "SourceFile",
            "SeasonText",
        ),
    ]
